#pragma once

#include <span>

#include "calculations/bolting.hpp"

namespace fitup::calculations {

/// A turn about the second pattern's origin, anticlockwise, then a shift.
struct Laying {
    double turn_rad = 0.0;
    plan::Point shift_mm;
};
plan::Point laid(const Laying& laying, plan::Point second_mm);

/// The laying of least sum of distances: where a few places are wrong they stand out, and the others stay
/// where they belong (a least greatest distance would share the fault among all). Slacks don't count.
///
/// Least squares whose weights are the distances' inverses, taken again until nothing moves.
/// REQUIRES: at least one pair. Accuracy: 1e-9 mm where places fit exactly.
Laying least_sum_laying(std::span<const FastenerPair> pairs);

}  // namespace fitup::calculations
