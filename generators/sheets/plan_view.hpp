#pragma once

#include "plan/plan.hpp"
#include "sheets/view.hpp"

namespace fitup::sheets {

struct PlanViewOptions {
    /// How far centre lines stand out beyond what they belong to, in mm of the part.
    double overshoot_mm = 3.0;
    bool with_hidden = true;  ///< also what is on the other side only
    bool with_centres = true;
    bool with_bolt_circles = true;
};

/// One side of a part made of prisms as seen from that side, X to the right and Y up: side B as in the plan,
/// side A with X changed in sign (as `side_profile` has it). Of an arm as seen from above, its joggle not
/// shown.
///
/// - `visible`: every curve across which the height in sight changes or starts to slope: outline, what stands
///   out, rims of holes on this side with their recesses and countersinks and what is seen inside these,
///   pockets, marks.
/// - `hidden`: curves under metal: what is cut from the other side only, holes from the side. Marks of the
///   other side are left out.
/// - `thread`: three quarters of the major circle (ISO 6410-1; from memory, unverified), where the thread
///   comes out on this side; hidden ones have it as a `hidden` arc.
/// - `centre`: two crossing lines at each hole; on a bolt circle one towards its centre, the circle is the
///   other. `circle`: bolt circles.
/// - marks: each hole once, at its place in the view, with the largest radius it shows on this side (behind
///   metal: with its own largest, `is_open` false).
View plan_view(const plan::Plan& plan, plan::Side side, const PlanViewOptions& options = {});

/// Bolt circle of a pattern that was given as one; nothing where its holes don't lie on a circle of that
/// diameter.
std::optional<plan::Circle> bolt_circle(const plan::Plan& plan, const plan::Pattern& pattern);

}  // namespace fitup::sheets
