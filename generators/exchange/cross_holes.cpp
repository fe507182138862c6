#include "exchange/cross_holes.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "base/vector3.hpp"

namespace fitup::exchange {

namespace {

constexpr double same_direction = 1e-6;
/// A candidate farther than this from where a hole should be is another hole, not the same one moved.
constexpr double farthest_move_mm = 10.0;
constexpr double full_turn_deg = 359.0;

bool is_square_to_z(const Cylinder& cylinder) {
    return cylinder.is_hole && cylinder.sweep_deg >= full_turn_deg &&
           std::abs(cylinder.axis[2]) < same_direction;
}

/// How far a wall in a file is from a hole of the plan.
struct Off {
    double moved_mm = 0.0;
    double diameter_mm = 0.0;
    double range_mm = 0.0;
    double worst_mm() const { return std::max({moved_mm, diameter_mm, range_mm}); }
};

std::optional<Off> off(const plan::CrossHole& hole, const Cylinder& wall) {
    const double along = dot(hole.direction, wall.axis);
    if (std::abs(std::abs(along) - 1.0) > same_direction) return std::nullopt;
    const double start_mm = dot(hole.at_mm, wall.axis);
    const double end_mm = start_mm + along * hole.depth_mm;
    const plan::Point3 aside = hole.at_mm - wall.axis_point;
    return Off{length(aside - wall.axis * dot(aside, wall.axis)),
               std::abs(hole.diameter_mm - 2.0 * wall.radius_mm),
               std::max(std::abs(std::min(start_mm, end_mm) - wall.low_mm),
                        std::abs(std::max(start_mm, end_mm) - wall.high_mm))};
}

std::string place_text(const plan::Point3& at, double diameter_mm, double length_mm) {
    return "d " + short_text(diameter_mm, 4) + " from the side at " + short_text(at[0], 4) + ", " +
           short_text(at[1], 4) + ", " + short_text(at[2], 4) + ", " + short_text(length_mm, 4) + " long";
}

std::string place_text(const Cylinder& wall) {
    return place_text(wall.axis_point, 2.0 * wall.radius_mm, wall.high_mm - wall.low_mm);
}

Verdict verdict_of(const Off& off, double within_mm) {
    if (off.moved_mm > within_mm) return Verdict::moved;
    if (off.diameter_mm > within_mm) return Verdict::resized;
    return off.range_mm > within_mm ? Verdict::differs : Verdict::same;
}

/// The nearest wall that no other hole has taken.
Row row_of(const plan::CrossHole& hole, std::vector<const Cylinder*>& walls, double within_mm, bool is_mesh) {
    Row row{hole.id, is_mesh ? Verdict::unmeasured : Verdict::missing,
            place_text(hole.at_mm, hole.diameter_mm, hole.depth_mm), "", 0.0};
    double least_mm = farthest_move_mm;
    auto nearest = walls.end();
    for (auto wall = walls.begin(); wall != walls.end(); ++wall) {
        const auto difference = off(hole, **wall);
        if (!difference || difference->worst_mm() >= least_mm) continue;
        least_mm = difference->worst_mm();
        nearest = wall;
    }
    if (nearest == walls.end()) return row;
    row.verdict = verdict_of(*off(hole, **nearest), within_mm);
    row.found = place_text(**nearest);
    row.difference_mm = least_mm;
    walls.erase(nearest);
    return row;
}

}  // namespace

void compare_cross_holes(Comparison& comparison, const plan::Plan& plan, const Measurement& found,
                         double within_mm, bool is_mesh) {
    std::vector<const Cylinder*> walls;
    for (const Cylinder& cylinder : found.cylinders) {
        if (is_square_to_z(cylinder)) walls.push_back(&cylinder);
    }
    for (const plan::CrossHole& hole : plan.cross_holes)
        comparison.rows.push_back(row_of(hole, walls, within_mm, is_mesh));
    for (const Cylinder* wall : walls)
        comparison.rows.push_back({"extra hole", Verdict::extra, "", place_text(*wall), 0.0});
}

}  // namespace fitup::exchange
