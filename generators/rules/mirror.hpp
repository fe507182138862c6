#pragma once

#include <span>
#include <vector>

#include "plan/contour.hpp"

namespace fitup::rules {

/// A hole's place, and by how much it may be off for its bolt to go in.
struct SlackHole {
    plan::Point at_mm;
    double slack_mm = 0.0;
};

/// How a pattern bolts up that was drilled mirrored: X changed in sign, then turned about the origin to where
/// most holes fall on a place of the true pattern.
struct MirrorMatch {
    double turn_rad = 0.0;
    /// Holes (places in the span, ascending) whose image falls on none.
    std::vector<std::size_t> lonely;
};

/// The best turn of all, not only of those that lay one hole's centre on another's.
///
/// Holes are taken to be further apart than their slack, so that no two images share a place.
/// Cost: n log n to n^2 for patterns that are their own mirror image, else n^2 log n in holes of one radius
/// (on one circle, unevenly spaced: 600 a tenth of a second, 2000 under two). Construction is our own.
MirrorMatch best_mirror_match(std::span<const SlackHole> holes);

}  // namespace fitup::rules
