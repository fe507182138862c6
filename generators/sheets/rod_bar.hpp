#pragma once

#include "plan/plan.hpp"
#include "sheets/view.hpp"

namespace fitup::sheets {

/// A straight round bar with a rod's ends, X along it from the first end's face. Longer than `shown_mm` it is
/// broken in the middle of its shank and drawn that long.
struct RodBar {
    double length_mm = 0.0;
    double shown_mm = 0.0;
    bool is_broken() const { return shown_mm < length_mm; }
};

/// @param most_mm  what it may be drawn long; less than its ends and a break need is stretched to that
RodBar bar_of(const plan::Rod& rod, double length_mm, double most_mm);

void add_bar(View& view, const plan::Rod& rod, const RodBar& bar, double overshoot_mm);

}  // namespace fitup::sheets
