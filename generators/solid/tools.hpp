#pragma once

#include "plan/cuts.hpp"
#include "plan/skin.hpp"

/// Skins of single pieces that a boolean takes away or adds: they are built like the part itself.
namespace fitup::solid {

/// How far a cut that opens on a face goes on beyond the metal, so that no two faces come to lie in one
/// plane.
inline constexpr double beyond_mm = 1.0;

/// The cut as a body of its own; where it opens on a face it goes on past `metal`.
plan::Skin tool_skin(const plan::Cut& cut, const plan::Box& metal);

/// A raised ring as a body of its own, standing on its face.
plan::Skin ring_skin(const plan::Raised& ring, double thickness_mm);

}  // namespace fitup::solid
