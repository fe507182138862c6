// The corners that a cutter inside a contour runs into.
#include <algorithm>

#include "plan/contour.hpp"
#include "plan/stroke.hpp"
#include "plan/vector.hpp"

namespace fitup::plan {

namespace {

/// Edges that meet at less are taken as tangent: over a whole metre it is a thousandth of a millimetre.
constexpr double least_corner_rad = 1e-6;

void lower(std::optional<double>& least, double value) { least = least ? std::min(*least, value) : value; }

/// Corners and arcs that bend to the given side.
std::optional<double> least_radius(const Contour& contour, Turn bend) {
    const double sign = bend == Turn::anticlockwise ? 1.0 : -1.0;
    std::optional<double> least;
    const auto strokes = contour.strokes();
    for (std::size_t i = 0; i < strokes.size(); ++i) {
        const Stroke& next = strokes[(i + 1) % strokes.size()];
        if (strokes[i].sweep_rad * sign > 0.0) lower(least, strokes[i].radius_mm);
        if (sign * angle_between_rad(direction_at(strokes[i], 1.0), direction_at(next, 0.0)) >
            least_corner_rad)
            lower(least, 0.0);
    }
    return least;
}

}  // namespace

std::optional<double> least_inside_radius_mm(const Contour& contour) {
    return least_radius(contour, Turn::anticlockwise);
}

std::optional<double> least_inside_radius_mm(const Area& area) {
    std::optional<double> least = least_inside_radius_mm(area.outer);
    for (const Contour& island : area.islands) {
        if (const auto own = least_radius(island, Turn::clockwise)) lower(least, *own);
    }
    return least;
}

}  // namespace fitup::plan
