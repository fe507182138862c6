#pragma once

#include <string>

#include "plan/plan.hpp"

/// Sizes in words, the same on every sheet.
namespace fitup::sheets {

/// "430 x 430 x 45 mm (16.9291 x 16.9291 x 1.7717 in)".
std::string over_all_text(const plan::Box& box);

/// "H7: 12.000 to 12.018 mm, 0.4724 to 0.4731 in".
std::string limits_text(const plan::Fit& fit);

/// Lengths as a readout shows them, to 0.01 mm and to 0.0001 in, without their unit; and both with it:
/// "215.00 mm (8.4646 in)".
std::string readout_mm(double length_mm);
std::string readout_in(double length_mm);
std::string readout_text(double length_mm);

/// What is asked at one hole, the same words for holes that are alike: "tapped M10, thread 22 mm deep, ...,
/// from side B".
std::string hole_text(const plan::Plan& plan, const plan::Hole& hole);

}  // namespace fitup::sheets
