#pragma once

#include "calculations/stack.hpp"
#include "sheets/drawing.hpp"

namespace fitup::sheets {

/// Each closing's links as arrows along the axis, to one scale, and under them its worst case and likely
/// range against what is asked of it, enlarged.
Drawing stack_chart(const calculations::StackResult& result);

}  // namespace fitup::sheets
