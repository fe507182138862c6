#pragma once

#include "solid/solid.hpp"

namespace fitup::solid {

/// A slab with a joggle, with holes from the side, or with both, as one solid: each leg made as a plate is,
/// the joggle's faces between them made directly; holes from the side are taken away with the cuts that
/// overlap, in one boolean.
///
/// @throws KernelError when the kernel fails, gives anything but one closed valid solid, or one whose volume
/// is not the closed form's (where there is one).
Built build_bent(const plan::Plan& plan);

}  // namespace fitup::solid
