#pragma once

#include "plan/plan.hpp"

/// How far a hole that was measured on a casting may have to move when the parts meet.
namespace fitup::rules {

/// Standard deviations that are counted: about one place in twenty lies further off.
inline constexpr double doubt_sigmas = 2.0;
inline constexpr const char* doubt_words = "two standard deviations";

/// In the direction in which the hole is least well known; 0 for one that was not measured.
double doubt_mm(const plan::Hole& hole);

/// Of the distance of two; 0 where neither was measured. Of one pattern, whose readings hang together however
/// they may, the sum, which it never exceeds; else they are independent.
double doubt_between_mm(const plan::Hole* first, const plan::Hole* second);

}  // namespace fitup::rules
