#pragma once

#include "base/angle.hpp"

namespace fitup::plan {

/// Height of a drill's point or any full cone: (d / 2) / tan(angle / 2). Reference: handbook drill-point
/// lengths, 118 degrees 0.3 d.
/// @param included  angle of the whole cone, under 180 degrees
inline double point_height_mm(double diameter_mm, Angle included) {
    return diameter_mm / 2.0 / (included * 0.5).tan();
}

}  // namespace fitup::plan
