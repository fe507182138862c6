#pragma once

#include <optional>

#include "plan/plan.hpp"
#include "sheets/view_keys.hpp"

namespace fitup::sheets {

/// An offset arm from above, from the side and as the flat strip; X from the pivot's axis in all of them.
struct ArmViews {
    /// From above, as `plan_view` of side B; `bend` lines where each bend starts and ends, holes from the
    /// side `hidden` with their centre lines. Keys: "pivot to eye", "width", and where there are any "pivot
    /// bore", "eye bore" or "slot width" and "slot length", "boss", "slit", "lugs" (over both), "lug end",
    /// "pinch bolt" (each from the axis).
    KeyedView top;
    /// Looked at along +Y, Z up, the joggle with its true arcs; holes along Z `hidden`, those from the side
    /// `visible` where they come out towards the eye (the tapped lug), with their thread.
    /// Keys: "thickness", and where there are any "rise", "bend start", "run", "boss height", "pinch bolt
    /// height"; radii "inside radius" of each bend; angle "bend", between leg and joggle.
    KeyedView side;
    /// The strip before it is bent and before anything is put on it (`plan::flat_blank`): outline, holes, and
    /// where each bend starts and ends as `bend` lines. Nothing where the arm has no blank.
    /// Keys: "developed length" (pivot to eye), "strip" (over all, from half
    /// its width behind the axis, without lugs or a wider boss), "over all" (with them), "width", of each
    /// bend "mark" (from the strip's own pivot end, half its width behind the axis, to the bend's start),
    /// "mark from axis" and "allowance".
    std::optional<KeyedView> flat;
};

/// @param overshoot_mm  how far centre lines stand out, in mm of the part
/// REQUIRES: a plan with an arm.
ArmViews arm_views(const plan::Plan& plan, double overshoot_mm = 3.0);

}  // namespace fitup::sheets
