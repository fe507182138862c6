#pragma once

#include "plan/plan.hpp"

/// What the plan has, as one sees it looking at a side: from A, X runs the other way. Done twice it is back.
namespace fitup::plan {

inline Point seen_from(Side side, Point at) { return side == Side::A ? Point{-at.x_mm, at.y_mm} : at; }

inline Contour seen_from(Side side, const Contour& contour) {
    return side == Side::A ? mirrored_x(contour) : contour;
}

}  // namespace fitup::plan
