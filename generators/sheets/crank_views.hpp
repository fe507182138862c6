#pragma once

#include "plan/plan.hpp"
#include "sheets/cutting_line.hpp"
#include "sheets/view_keys.hpp"

namespace fitup::sheets {

/// A crank from above and cut open along its first two arms.
struct CrankViews {
    /// `plan_view` of side B, with a centre line along each arm.
    /// Keys: of each arm "arm NAME" (pivot to eye, along it) and "eye NAME" (its boss's diameter); "hub";
    /// "pivot bore". Angles "NAME to NEXT" from each arm to the one after it, anticlockwise; of two arms the
    /// smaller angle alone.
    KeyedView top;
    /// `section_view` along `cut`: the hub at X = 0, the arm that points more to the left on the left.
    /// Keys: "thickness", "hub height", "hub below" (where the hub reaches below the web), of each arm that
    /// is cut "eye height NAME".
    KeyedView section;
    CuttingLine cut;
};

/// REQUIRES: a plan with a crank.
CrankViews crank_views(const plan::Plan& plan, double overshoot_mm = 3.0);

}  // namespace fitup::sheets
