#include "plan/wall_left.hpp"

#include <algorithm>
#include <cmath>
#include <unordered_map>

#include "plan/drill_point.hpp"

namespace fitup::plan {

namespace {

/// Whether a wall stands on the hole's own shaft: a contour of its size about its axis.
bool is_shaft_wall(const Hole& hole, const Contour& contour) {
    if (hole.slot_length_mm) return contour.circle() == nullptr;
    const Circle* circle = contour.circle();
    return circle != nullptr && distance_mm(circle->centre, hole.at_mm) < same_point_mm &&
           std::abs(2.0 * circle->radius_mm - hole.diameter_mm) < same_point_mm;
}

double countersink_depth_mm(const Hole& hole) {
    if (!hole.countersink) return 0.0;
    return point_height_mm(hole.countersink->diameter_mm - hole.diameter_mm, hole.countersink->angle);
}

double shaft_alone_mm(const Hole& hole, double thickness_mm) {
    const double full_mm = hole.through ? thickness_mm : hole.depth_mm;
    const double recess_mm = hole.recess ? hole.recess->depth_mm : 0.0;
    return std::max(0.0, full_mm - recess_mm - countersink_depth_mm(hole));
}

}  // namespace

std::vector<double> walls_left_mm(const Plan& plan, const SkinResult& skin) {
    std::unordered_map<std::string_view, std::size_t> index;
    for (std::size_t i = 0; i < plan.holes.size(); ++i) index.emplace(plan.holes[i].id, i);
    std::vector<double> left_mm(plan.holes.size(), 0.0);
    for (const Wall& wall : skin.skin.walls) {
        const auto found = index.find(wall.name);
        if (found == index.end() || wall.metal_inside) continue;
        if (!is_shaft_wall(plan.holes[found->second], skin.skin.contours[wall.contour])) continue;
        left_mm[found->second] += wall.z_high_mm - wall.z_low_mm;
    }
    for (const Cut& cut : skin.overlapping) {
        if (cut.role == CutRole::pocket || cut.role == CutRole::point) continue;
        left_mm[cut.owner] = shaft_alone_mm(plan.holes[cut.owner], plan.body.thickness_mm);
    }
    return left_mm;
}

}  // namespace fitup::plan
