#pragma once

#include <string>

#include "plan/finding.hpp"
#include "solid/skin_solid.hpp"

namespace fitup::solid {

/// The kernel integrates our planes, cylinders and cones to 1e-14; anything beyond this is a wrong body.
inline constexpr double same_volume_relative = 1e-9;

/// What is being made, for messages: "the solid of winch-adapter".
std::string making_text(const plan::Plan& plan);

/// The final stops of a body that is not in one piece; empty for a sound one.
/// @param where  ids of the cuts that may have done it, or ""
plan::Findings unsound_pieces(const SkinSolids& made, const std::string& where);

}  // namespace fitup::solid
