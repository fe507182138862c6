#pragma once

#include <vector>

#include "calculations/survey_network.hpp"

namespace fitup::calculations {

/// Places to start from, and how badly the readings fit them (a reading that doesn't fit counts for no more
/// than a limit, so that one gross error does not choose the arrangement).
struct Layout {
    std::vector<plan::Point> at_mm;
    double score = 0.0;
};

/// How a layout is built.
struct Care {
    /// Spans alone are laid on one of them, the base: the best, the next ..
    std::size_t base = 0;
    /// Settles layouts on the way where readings begin to disagree: for long chains of points, at twenty
    /// times the cost.
    bool settle_on_the_way = false;
    /// Readings agree with one another: no slack for errors carried on.
    bool exact = false;
    /// Carries as many layouts along as nine choices of a side make.
    bool widely = false;
};

/// Starts for a network whose places the readings hold, the likeliest first: known coordinates, then one
/// point after another where its readings meet, both ways where they meet twice. At least one; the same every
/// time.
std::vector<Layout> starting_layouts(const Network& network, const Care& care);

}  // namespace fitup::calculations
