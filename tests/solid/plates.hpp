#pragma once

#include <string>
#include <vector>

#include "plan/plan.hpp"

/// Small plans for the tests of solid/ and exchange/, made by hand.
namespace fitup::plates {

/// A round plate of 200 mm, 20 thick, with a bore of 60.
plan::Plan round_plate();
/// 160 x 120, 16 thick, corners rounded by 12, no bore.
plan::Plan rectangle_plate();
/// A grid of `count` holes through a plate that just holds them: every third with a recess, every third blind
/// with a drill point.
plan::Plan many_holes(int count);

plan::Hole hole(const std::string& id, plan::Point at, double diameter_mm);
plan::Hole blind_hole(const std::string& id, plan::Point at, double diameter_mm, double depth_mm,
                      plan::Side from = plan::Side::B);
plan::Pocket relief(const std::string& id, const plan::Contour& contour, plan::Side side, double depth_mm);

}  // namespace fitup::plates
