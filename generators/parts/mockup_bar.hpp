#pragma once

#include "plan/paper.hpp"
#include "plan/plan.hpp"

/// The test bar to find a print's shrinkage with.
namespace fitup::parts {

/// Length over all, and between its two holes 10 mm less. 150 mm: the shrinkage of a short piece can't be
/// measured with calipers.
inline constexpr double bar_mm = 150.0, bar_ends_mm = 10.0;
/// Of its holes, without allowance: they show it.
inline constexpr double bar_hole_mm = 5.0;

/// A flat bar with the words on it that say what to reckon; neither scaled nor with an allowance.
/// @returns shorter than `bar_mm`, by whole 10 mm, where the bed is
plan::Plan test_bar(const plan::Plan& source, const plan::Mockup& settings);

}  // namespace fitup::parts
