#pragma once

#include <optional>

#include "plan/plan.hpp"
#include "trade/trade.hpp"

/// The offset arm seen from above: strip, boss, lugs and slit.
namespace fitup::parts {

/// Lugs for a pinch bolt of this thread: wide enough for its thread on the tapped side, long enough for its
/// head or washer to lie flat. `seat_mm` follows from the tables; the lugs' height is the pivot's.
/// @param pivot_outside_mm  diameter of the metal round the bore
plan::Clamp sized_clamp(const plan::Thread& bolt, double slit_mm, double bore_mm, double pivot_outside_mm,
                        double height_mm, const std::string& family);

/// The clearance hole of the bolt (normal fit). Its thread's major diameter where the table has none.
double bolt_clearance_mm(const std::string& bolt);

/// The strip from the pivot's round end to the one about `far_mm` on X, joined with the metal round the bore
/// and the lugs.
plan::Contour arm_outline(double strip_width_mm, double far_mm, double pivot_outside_mm,
                          const std::optional<plan::Clamp>& clamp);

/// The boss, joined with the lugs.
plan::Contour boss_outline(double diameter_mm, const std::optional<plan::Clamp>& clamp);

/// What the slit takes away: from the bore's middle out through the lugs' end.
plan::Contour slit_outline(const plan::Clamp& clamp);

}  // namespace fitup::parts
