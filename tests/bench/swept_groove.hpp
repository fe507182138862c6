#pragma once

#include <TopoDS_Shape.hxx>

#include "plan/thread_form.hpp"

namespace fitup::bench {

/// The groove of a thread about +Z as the kernel's usual way has it: its section swept along a helix, from a
/// turn below z = 0 to a turn above the last of `turns`. To be cut from a bar of the major diameter.
TopoDS_Shape swept_groove(const plan::ThreadForm& form, int turns);

}  // namespace fitup::bench
