#pragma once

#include <string>

namespace fitup::calculations {

/// The chance that a chi-square of `degrees_of_freedom` comes out at `value` or more: the upper incomplete
/// gamma function Q(k / 2, x / 2), to 1e-12. 1 without degrees of freedom.
double chi_square_tail(double value, int degrees_of_freedom);

/// "once in 4000", "once in more than a million"; for chances under a half.
std::string once_in(double chance);

}  // namespace fitup::calculations
