#pragma once

#include "calculations/linkage_result.hpp"
#include "calculations/linkage_solve.hpp"

/// Sizes that a hand can make and set.
namespace fitup::calculations {

/// What a file or a drill in a hand's shop keeps to: sizes are rounded to it.
constexpr double hand_step_mm = 0.5;

/// The linkage with solved arms and rods rounded to half a millimetre (an angle to half a degree), and every
/// rod that adjusts set in whole steps of its thread so that the worst error of all positions is least.
struct HandSetting {
    Linkage linkage;
    std::vector<double> branches;
    std::vector<double> cut_mm;  ///< a rod each: as made, before it is set
    std::vector<double> steps;   ///< a rod each: from `cut_mm`, longer positive
    double worst_normalised = 0.0;
};

/// One setting that serves all positions: every way of rounding and, round each, the settings of the rods
/// that lie within their threads' travel. Nothing where no such setting closes.
std::optional<HandSetting> hand_setting(const Linkage& exact);

/// What the fitter counts and what is left of each thread.
std::vector<RodSetting> rod_settings(const HandSetting& setting);

}  // namespace fitup::calculations
