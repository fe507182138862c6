#include "base/text.hpp"
#include "cli/call.hpp"
#include "cli/part_commands.hpp"
#include "mesh/rod_mesh.hpp"

namespace fitup::cli {

namespace {

std::string too_many(const plan::Plan& plan, std::size_t triangles) {
    return ": the STL of " + plan.name + " would have " + std::to_string(triangles) + " triangles, and " +
           std::to_string(mesh::most_triangles) + " is the most that is made";
}

/// A part whose cuts overlap is meshed from its solid; its skin still tells the count well enough.
mesh::CountOfTriangles count_of(const plan::Plan& plan) {
    if (plan.rod)
        return [&rod = *plan.rod](const mesh::Fineness& fineness) {
            return mesh::estimated_triangles(rod, fineness);
        };
    return [skin = plan::skin(plan).skin](const mesh::Fineness& fineness) {
        return mesh::estimated_triangles(skin, fineness);
    };
}

}  // namespace

std::optional<std::string> too_fine(const plan::Plan& plan, const mesh::Fineness& fineness,
                                    const Call& call) {
    const mesh::CountOfTriangles count = count_of(plan);
    const std::size_t triangles = count(fineness);
    if (triangles <= mesh::most_triangles) return {};
    if (const auto chord_mm = mesh::least_chord_mm(count, fineness.angle))
        return "--chord: found \"" + call.chord + "\", wanted at least \"" + shortest_text(*chord_mm) +
               " mm\"" + too_many(plan, triangles);
    // No chord helps: the angle alone asks for too much.
    auto angle = mesh::least_angle(count, fineness.chord_mm);
    if (!angle) angle = mesh::least_angle(count, mesh::widest_chord_mm);
    if (!angle) return "--only stl" + too_many(plan, triangles) + ", however coarse";
    return "--angle: found \"" + call.angle + "\", wanted at least " + shortest_text(angle->degrees()) +
           " degrees" + too_many(plan, triangles);
}

}  // namespace fitup::cli
