#pragma once

#include <optional>
#include <vector>

#include "plan/plan.hpp"
#include "sheets/view_keys.hpp"

namespace fitup::sheets {

struct RodViewOptions {
    /// How far centre lines stand out, in mm of the part.
    double overshoot_mm = 3.0;
    /// A straight rod longer than this is broken in its middle and drawn this long (or as long as its ends
    /// and the break need); 0: longer than 25 of its diameters, to 16 of them. Not a number of the part.
    double most_mm = 0.0;
};

/// A rod as it is made and as it is cut.
struct RodViews {
    /// Straight: one view, the first end on the left, X from its face. Bent in one plane: one view of that
    /// plane. Else "front" and "top", the top view looked at from the front's up side, with the same X (see
    /// `frames_of`). X and Y then are the part's own along the view's axes.
    /// Keys: "length" (true, of a straight rod; of a broken view longer than it is drawn), "diameter", and
    /// for each end "thread 1", "thread 2" or "turned 1", "turned 2" with "turned diameter 1" ..; of bent
    /// rods, each in the first view that shows it true, "straight 1" .. (between tangents), "leg 1" .. (from
    /// corner to corner or end); what no view shows true stands in the first, with " (true)" after its name.
    /// Radii "bend radius 1" .. to the centreline and angles "bend 1" .. (by which the direction changes)
    /// where they show true.
    std::vector<KeyedView> views;
    /// Of a bent rod the straight bar it is bent from, X along it from the first end: `bend` lines where each
    /// bend starts and ends, a mark "bend 1" .. at each one's middle.
    /// Keys: "cut length", of each bend "mark 1" .. (to its start) and "middle 1" .., both from the first
    /// end.
    std::optional<KeyedView> stock;
};

/// REQUIRES: a plan with a rod.
RodViews rod_views(const plan::Plan& plan, const RodViewOptions& options = {});

}  // namespace fitup::sheets
