#pragma once

#include <vector>

#include "plan/plan.hpp"
#include "plan/profile.hpp"

namespace fitup::sheets {

/// Each side of a plate or a crank that is worked on, as it lies on the table (side A flipped about Y); of an
/// arm the flat blank with its bend lines. None for a rod, nor for an arm that has no blank.
///
/// Layers: OUTLINE; each hole's operations as the hole list has them (DRILL, TAP_DRILL, TAP, REAM,
/// COUNTERBORE,
/// ..); THROUGH for what comes through from the other side; SPIGOT, HUB, EYE, RECESS, HOLLOW, RELIEF, MARK;
/// BEND.
std::vector<plan::Profile> profiles(const plan::Plan& plan);

}  // namespace fitup::sheets
