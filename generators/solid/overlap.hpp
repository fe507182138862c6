#pragma once

#include "solid/skin_solid.hpp"

namespace fitup::solid {

/// The part with what overlaps: raised rings fused first where there are any, then all cuts taken away in one
/// boolean.
///
/// A face keeps its name through the boolean; a face that a cut leaves takes the cut's id.
/// @param drills  what else is taken away: holes from the side
/// @returns as many bodies as are left, none included.
/// Not checked yet: see insist_on_validity().
/// @throws KernelError when a boolean fails.
/// Cost: two crossing reliefs on a plate of 24 holes about 80 ms, of 600 holes 1.3 s (the kernel's validity
/// check is quadratic in the holes of a face).
SkinSolids take_overlaps(const SkinSolids& plain, const plan::Plan& plan, const plan::SkinResult& skin,
                         const std::string& making, const SkinSolids& drills = {});

/// The kernel's full check of every body. @throws KernelError when one is not valid.
void insist_on_validity(const SkinSolids& part, const std::string& making);

}  // namespace fitup::solid
