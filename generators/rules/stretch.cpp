#include "rules/stretch.hpp"

#include <algorithm>

#include "plan/drill_point.hpp"

namespace fitup::rules {

namespace {

using plan::Side;

/// Whether a shape lies wholly on a ring of metal that stands on a face.
bool stands_on(const plan::Raised& raised, const plan::Contour& contour) {
    if (plan::relation(contour, raised.outer) != plan::Relation::first_inside_second) return false;
    return std::all_of(raised.inner.begin(), raised.inner.end(), [&contour](const plan::Contour& inner) {
        return plan::relation(contour, inner) == plan::Relation::apart;
    });
}

/// Height of the metal that stands on a face under all of a shape.
double raised_mm(const plan::Plan& plan, Side side, const plan::Contour& contour) {
    double height_mm = 0.0;
    for (const plan::Raised& raised : plan.raised) {
        if (raised.side == side && stands_on(raised, contour))
            height_mm = std::max(height_mm, raised.height_mm);
    }
    return height_mm;
}

void take_away(Stretch& stretch, bool is_near, double depth_mm, double thickness_mm) {
    if (is_near) {
        stretch.from_mm = std::max(stretch.from_mm, depth_mm);
    } else {
        stretch.to_mm = std::min(stretch.to_mm, thickness_mm - depth_mm);
    }
}

}  // namespace

double metal_behind_mm(const plan::Plan& plan, Side from, const plan::Contour& contour) {
    return plan.body.thickness_mm + raised_mm(plan, other(from), contour);
}

Stretch metal_along(const Subject& subject, std::size_t index, PartlyCut partly_cut) {
    const plan::Plan& plan = subject.plan();
    const plan::Hole& hole = plan.holes[index];
    const plan::Contour round(plan::Circle{hole.at_mm, hole.diameter_mm / 2.0});
    const double thickness_mm = plan.body.thickness_mm;
    Stretch stretch{-raised_mm(plan, hole.from, round), metal_behind_mm(plan, hole.from, round)};
    if (hole.recess) take_away(stretch, hole.recess->side == hole.from, hole.recess->depth_mm, thickness_mm);
    for (const PocketAtHole& at_hole : subject.pockets_at_hole(index)) {
        if (at_hole.lie == Lie::crossing && partly_cut == PartlyCut::is_metal) continue;
        const plan::Pocket& pocket = plan.pockets[subject.cuts()[at_hole.cut].owner];
        take_away(stretch, pocket.side == hole.from, pocket.through ? thickness_mm : pocket.depth_mm,
                  thickness_mm);
    }
    return stretch;
}

double point_height_mm(const plan::Hole& hole) {
    if (!hole.point_angle || hole.slot_length_mm) return 0.0;
    return plan::point_height_mm(hole.diameter_mm, *hole.point_angle);
}

}  // namespace fitup::rules
