#include "sheets/report_marks.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "base/vector3.hpp"
#include "plan/rod_path.hpp"

namespace fitup::sheets {

namespace {

using plan::Point3;
using plan::Side;

bool holds(const plan::Area& area, plan::Point at) {
    return area.outer.contains(at) && std::none_of(area.islands.begin(), area.islands.end(),
                                                   [at](const auto& island) { return island.contains(at); });
}

/// How far the metal at a place stands out of a side's face; below 0 in what is milled there.
double standing_mm(const plan::Plan& plan, plan::Point at, Side side) {
    double height_mm = 0.0;
    for (const plan::Raised& ring : plan.raised) {
        if (ring.side == side && holds({ring.outer, ring.inner}, at))
            height_mm = std::max(height_mm, ring.height_mm);
    }
    for (const plan::Pocket& pocket : plan.pockets) {
        const bool is_here = pocket.side == side && !pocket.through &&
                             std::any_of(pocket.areas.begin(), pocket.areas.end(),
                                         [at](const plan::Area& area) { return holds(area, at); });
        if (is_here) height_mm = std::min(height_mm, -pocket.depth_mm);
    }
    return height_mm;
}

double shaft_radius_mm(const plan::Hole& hole) {
    const bool is_thread = hole.thread && hole.thread->modelled;
    return std::max(hole.diameter_mm, is_thread ? hole.thread->major_mm : 0.0) / 2.0;
}

double mouth_radius_mm(const plan::Hole& hole, Side side) {
    double radius_mm = shaft_radius_mm(hole);
    if (hole.recess && hole.recess->side == side)
        radius_mm = std::max(radius_mm, hole.recess->diameter_mm / 2.0);
    if (hole.countersink && hole.countersink->side == side)
        radius_mm = std::max(radius_mm, hole.countersink->diameter_mm / 2.0);
    return radius_mm;
}

double tip_mm(const plan::Hole& hole) {
    return hole.point_angle ? hole.diameter_mm / 2.0 / (*hole.point_angle * 0.5).tan() : 0.0;
}

/// Whether outline or a raised ring reaches there, as seen along Z.
bool has_metal_at(const plan::Plan& plan, plan::Point at) {
    return plan.body.outline.contains(at) ||
           std::any_of(plan.raised.begin(), plan.raised.end(),
                       [at](const plan::Raised& ring) { return ring.outer.contains(at); });
}

std::string joined(const std::vector<double>& numbers) {
    constexpr int decimals = 4;
    std::string text;
    for (const double number : numbers) text += (text.empty() ? "" : " ") + short_text(number, decimals);
    return text;
}

StretchMark stretch(const plan::Rod& rod, const plan::RodPath& path, double from_mm, double to_mm) {
    constexpr int pieces = 12;
    StretchMark mark{{}, rod.diameter_mm / 2.0};
    for (int i = 0; i <= pieces; ++i)
        mark.points.push_back(path.place_at(from_mm + (to_mm - from_mm) * i / pieces).at);
    return mark;
}

/// What of an end shows on the part: its thread or turned length, else a stub as long as it is thick.
double end_length_mm(const plan::Rod& rod, std::size_t end) {
    return rod.ends[end].length_mm > 0.0 ? rod.ends[end].length_mm : rod.diameter_mm;
}

}  // namespace

HoleMark mark_of(const plan::Plan& plan, const plan::Hole& hole) {
    const bool from_a = hole.from == Side::A;
    const double level_mm = plan::level_mm(plan, hole.at_mm);
    HoleMark mark;
    mark.base = {hole.at_mm.x_mm, hole.at_mm.y_mm, level_mm + (from_a ? 0.0 : plan.body.thickness_mm)};
    mark.axis = {0.0, 0.0, from_a ? -1.0 : 1.0};
    mark.high_mm = standing_mm(plan, hole.at_mm, hole.from);
    mark.high_mouth_mm = mouth_radius_mm(hole, hole.from);
    const Side far = plan::other(hole.from);
    mark.low_mm = hole.through ? -plan.body.thickness_mm - standing_mm(plan, hole.at_mm, far)
                               : -hole.depth_mm - tip_mm(hole);
    mark.low_mouth_mm = hole.through ? mouth_radius_mm(hole, far) : 0.0;
    mark.radius_mm = std::max(mark.high_mouth_mm, mouth_radius_mm(hole, far));
    if (hole.slot_length_mm) {
        const double half_mm = (*hole.slot_length_mm - hole.diameter_mm) / 2.0;
        mark.half_slot = {half_mm * hole.slot_direction.cos(), half_mm * hole.slot_direction.sin(), 0.0};
    }
    return mark;
}

HoleMark mark_of(const plan::Plan& plan, const plan::CrossHole& hole) {
    const double radius_mm = hole.diameter_mm / 2.0;
    constexpr double beyond_mm = 0.01;
    const Point3 end = hole.at_mm + hole.direction * (hole.depth_mm + beyond_mm);
    const bool comes_out = !has_metal_at(plan, {end[0], end[1]});
    return {.base = hole.at_mm,
            .axis = hole.direction * -1.0,
            .low_mm = -hole.depth_mm,
            .high_mm = 0.0,
            .radius_mm = radius_mm,
            .half_slot = {},
            .low_mouth_mm = comes_out ? radius_mm : 0.0,
            .high_mouth_mm = radius_mm};
}

std::vector<StretchMark> rod_marks(const plan::Plan& plan) {
    const plan::Rod& rod = *plan.rod;
    const plan::RodPath path = plan::rod_path(rod);
    std::vector<StretchMark> marks{stretch(rod, path, 0.0, end_length_mm(rod, 0))};
    for (const plan::RodBend& bend : path.bends)
        marks.push_back(stretch(rod, path, bend.mark_mm, bend.mark_mm + bend.length_mm()));
    marks.push_back(stretch(rod, path, path.length_mm - end_length_mm(rod, 1), path.length_mm));
    return marks;
}

std::string mark_text(const HoleMark& mark) {
    return joined({mark.base[0], mark.base[1], mark.base[2], mark.axis[0], mark.axis[1], mark.axis[2],
                   mark.low_mm, mark.high_mm, mark.radius_mm, mark.half_slot[0], mark.half_slot[1],
                   mark.half_slot[2], mark.low_mouth_mm, mark.high_mouth_mm});
}

std::string mark_text(const StretchMark& mark) {
    std::vector<double> numbers{mark.radius_mm};
    for (const Point3& point : mark.points) numbers.insert(numbers.end(), point.begin(), point.end());
    return joined(numbers);
}

}  // namespace fitup::sheets
