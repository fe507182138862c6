#pragma once

#include "solid/skin_solid.hpp"

namespace fitup::solid {

/// The part with what overlaps: raised rings fused first where there are any, then all cuts taken away in one
/// boolean.
///
/// A face keeps its name through the boolean; a face that a cut leaves takes the cut's id.
/// @returns as many bodies as are left, none included.
/// @throws KernelError when a boolean fails or leaves a body that is not valid.
/// Cost: grows with what the tools touch; two reliefs across a plate of 24 holes about 30 ms.
SkinSolids take_overlaps(const SkinSolids& plain, const plan::Plan& plan, const plan::SkinResult& skin,
                         const std::string& making);

}  // namespace fitup::solid
