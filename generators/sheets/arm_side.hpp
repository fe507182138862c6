#pragma once

#include "plan/plan.hpp"
#include "sheets/view_keys.hpp"

namespace fitup::sheets {

/// The side view of `ArmViews`.
KeyedView arm_side(const plan::Plan& plan, double overshoot_mm);

}  // namespace fitup::sheets
