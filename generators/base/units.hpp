#pragma once

#include <numbers>

/// Factors between units, for sources that reckon in plain doubles.
namespace fitup {

/// Exactly: ISO 31-1 and the international inch of 1959.
inline constexpr double mm_per_inch = 25.4;
inline constexpr double deg_per_rad = 180.0 / std::numbers::pi;

}  // namespace fitup
