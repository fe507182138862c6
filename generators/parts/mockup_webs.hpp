#pragma once

#include "parts/mockup_flat.hpp"

/// Walls between a mock-up's cuts that would be too thin to print, or none where two cuts just touch.
namespace fitup::parts {

/// A wall thinner than a usual nozzle is wide is not printed (common practice, no source).
inline constexpr double least_web_mm = 0.4;
/// A hole keeps this much allowance whatever stands beside it, since printed holes come out small by about as
/// much: the allowance that holes without a wish of their own have.
inline constexpr double kept_allowance_mm = plan::Mockup{}.hole_allowance_mm;

/// Holes of a wide allowance get less of it, where a wall of `least_web_mm` is kept by that; walls that can't
/// be kept are left out by openings along them, "web-1" and on. Both are told in notes.
/// Afterwards each two cuts lie well apart, within one another, or cross at an angle.
void mind_webs(const plan::Mockup& settings, Flat& flat);

}  // namespace fitup::parts
