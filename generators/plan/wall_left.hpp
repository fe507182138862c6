#pragma once

#include "plan/skin.hpp"

namespace fitup::plan {

/// Length of full-diameter wall that each hole of the plan has left in the solid, in mm, in the order of
/// Plan::holes: what recesses, countersinks and pockets leave of its shaft.
///
/// Exact for holes of the skin; for a hole in `overlapping` its own recess and countersink alone are taken
/// off.
std::vector<double> walls_left_mm(const Plan& plan, const SkinResult& skin);

}  // namespace fitup::plan
