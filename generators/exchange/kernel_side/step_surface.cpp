#include "exchange/kernel_side/step_surface.hpp"

#include <algorithm>
#include <cmath>
#include <cstring>

#include "base/error.hpp"
#include "base/text.hpp"
#include "exchange/kernel_side/mesh_bytes.hpp"
#include "exchange/kernel_side/solid_mesh.hpp"
#include "exchange/kernel_side/step_reading.hpp"
#include "exchange/kernel_side/stray.hpp"

namespace fitup::exchange {

namespace {

/// A sound surface is near enough after one or two; what is not by then is free-form beyond use or damaged.
constexpr int most_rounds = 6;
/// The mesher aims at the chord and misses it, on curved faces by up to four times.
constexpr double first_share = 0.5;

TopoDS_Shape triangulated_within(const TopoDS_Shape& shape, const std::string& name, double within_mm,
                                 double& stray) {
    mesh::Fineness fineness{within_mm * first_share, Angle::from_degrees(20.0)};
    for (int round = 0;; ++round) {
        const TopoDS_Shape meshed = triangulated(shape, fineness);
        if (const int missing = faces_without_triangles(meshed))
            throw FileError(name, std::to_string(missing) +
                                      " of its faces can't be turned into triangles; mend the file, or take "
                                      "cylinders and boxes in its place");
        stray = stray_mm(meshed);
        if (stray <= within_mm) return meshed;
        if (round == most_rounds)
            throw FileError(name, "its surface can't be held to " + short_text(within_mm, 4) +
                                      " mm by triangles (" + short_text(stray, 4) +
                                      " mm reached); take cylinders and boxes in its place");
        // A sagitta goes with the square of the angle.
        const double share = std::clamp(0.9 * within_mm / stray, 0.1, 0.8);
        fineness.chord_mm *= share;
        fineness.angle = Angle::from_radians(fineness.angle.radians() * std::sqrt(share));
    }
}

std::string surface_bytes(const TopoDS_Shape& shape, const std::string& name, double within_mm) {
    double stray = 0.0;
    const TopoDS_Shape meshed = triangulated_within(shape, name, within_mm, stray);
    std::string bytes(reinterpret_cast<const char*>(&stray), sizeof stray);
    return bytes + to_bytes(welded(meshed));
}

}  // namespace

SurfaceMesh step_surface(std::string_view text, const std::string& name, double within_mm) {
    StepReading reading(text, name, StepUse::meshing, [&](const StepContent& content) {
        return surface_bytes(content.shape, name, within_mm);
    });
    const std::string bytes = reading.finish();
    SurfaceMesh surface;
    std::memcpy(&surface.within_mm, bytes.data(), sizeof surface.within_mm);
    surface.mesh = mesh_from(std::string_view(bytes).substr(sizeof surface.within_mm));
    if (surface.mesh.triangles.empty()) throw FileError(name, "it holds no surface");
    return surface;
}

}  // namespace fitup::exchange
