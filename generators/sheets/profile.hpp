#pragma once

#include <vector>

#include "plan/plan.hpp"
#include "plan/profile.hpp"

namespace fitup::sheets {

/// One side of a plate or a crank as it lies on the table (side A flipped about Y), worked on or not.
///
/// Layers: OUTLINE; each hole's operations as the hole list has them (DRILL, TAP_DRILL, TAP, REAM,
/// COUNTERBORE,
/// ..); THROUGH for what comes through from the other side; SPIGOT, BOSS, REGISTER, HOLLOW, RELIEF, MARK;
/// BEND.
plan::Profile side_profile(const plan::Plan& plan, plan::Side side);

/// Each side that is worked on; of an arm the flat blank with its bend lines. None for a rod, nor for an arm
/// that has no blank.
std::vector<plan::Profile> profiles(const plan::Plan& plan);

}  // namespace fitup::sheets
