#pragma once

#include "plan/plan.hpp"

/// Small plans made by hand, for the tests of every module.
namespace fitup::plan::testing {

inline Plan disc(double diameter_mm, double thickness_mm) {
    Plan plan;
    plan.part = "adapter_plate";
    plan.name = "test";
    plan.material.name = "aluminium 6061-T6";
    plan.material.family = "aluminium";
    plan.material.density_kg_m3 = 2700.0;
    plan.body.outline = Contour(Circle{{0.0, 0.0}, diameter_mm / 2.0});
    plan.body.thickness_mm = thickness_mm;
    return plan;
}

inline Hole through_hole(const std::string& id, Point at, double diameter_mm) {
    Hole hole;
    hole.id = id;
    hole.at_mm = at;
    hole.diameter_mm = diameter_mm;
    return hole;
}

inline Hole blind_hole(const std::string& id, Point at, double diameter_mm, Side from, double depth_mm) {
    Hole hole = through_hole(id, at, diameter_mm);
    hole.from = from;
    hole.through = false;
    hole.depth_mm = depth_mm;
    hole.point_angle = Angle::from_degrees(118.0);
    return hole;
}

inline Hole bore(double diameter_mm) {
    Hole hole = through_hole("bore", {}, diameter_mm);
    hole.kind = HoleKind::bore;
    return hole;
}

inline void add(Plan& plan, Hole hole) {
    if (hole.through) hole.depth_mm = plan.body.thickness_mm;
    plan.holes.push_back(std::move(hole));
}

inline Pocket pocket(const std::string& id, Side side, double depth_mm, Area area) {
    Pocket result;
    result.id = id;
    result.side = side;
    result.depth_mm = depth_mm;
    result.areas = {std::move(area)};
    return result;
}

}  // namespace fitup::plan::testing
