#pragma once

#include "solid/solid.hpp"

namespace fitup::solid {

/// A rod as one solid: a face for each straight, bend, turned length, chamfer, shoulder and end, their
/// circular edges shared; nothing is sewn and nothing is cut.
///
/// Faces are named "end-1", "chamfer-1", "turned-1", "shoulder-1", "straight-1", "bend-1", .. in the order of
/// the path; the last end's are "end-2" and so on.
/// @param plan  with a rod that has no final stop
/// @throws KernelError when the kernel fails, or the solid has not the closed form's volume to 1e-9.
Built build_rod(const plan::Plan& plan);

}  // namespace fitup::solid
