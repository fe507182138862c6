#pragma once

#include <array>
#include <cstddef>
#include <span>

#include "plan/contour.hpp"

namespace fitup::calculations {

/// By how much a fastener misses its hole, and by how much it may.
struct Miss {
    plan::Point by_mm;
    double slack_mm = 0.0;
};

/// The shift that serves all misses best, with what proves it.
struct Enclosing {
    plan::Point shift_mm;
    /// max over all of |miss - shift| - slack; negative where all are served.
    double reach_mm = 0.0;
    /// One to three misses that hold the shift where it is: unit vectors from the shift to them, with weights
    /// that add up to 1 and vectors that cancel so weighted. No other shift can serve them better.
    std::size_t count = 0;
    std::array<std::size_t, 3> held_by{};
    std::array<plan::Point, 3> towards{};
    std::array<double, 3> weight{};
};

/// The shift of least max(|miss - shift| - slack): the smallest circle that encloses circles. Exact, by
/// exchange of what holds it; about linear in misses.
/// REQUIRES: at least one miss.
Enclosing smallest_reach(std::span<const Miss> misses);

}  // namespace fitup::calculations
