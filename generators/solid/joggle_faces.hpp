#pragma once

#include "plan/joggle.hpp"
#include "solid/skin_solid.hpp"

namespace fitup::solid {

/// Two legs joined by the joggle between them: its bends are true cylinders, and its faces share the edges of
/// the legs' end faces, which go.
///
/// @param first   the leg that ends in a rectangle at the first bend's start, on z = 0
/// @param second  the leg that starts in one at the second bend's end, at its height
/// @throws KernelError when a leg has no such end.
SkinSolids joined_by_joggle(const SkinSolids& first, const SkinSolids& second, const plan::Joggle& joggle,
                            const plan::JoggleProfile& profile, const std::string& making);

}  // namespace fitup::solid
