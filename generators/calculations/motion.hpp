#pragma once

#include <vector>

#include "calculations/chain.hpp"

/// How a chain moves about a pose: differentiating |A - B| = l of each loop.
namespace fitup::calculations {

struct LoopMotion {
    Vector driving_pin, driven_pin;
    Vector along_rod;         ///< unit, from the driven to the driving pin
    double ratio = 0.0;       ///< driven lever's turn over the driving one's
    double rad_per_mm = 0.0;  ///< driven lever's turn for each mm of rod
    /// Between rod and driven arm, 0 to 180 degrees; sideways of the driven pin's path counts as none. 90 is
    /// best.
    Angle transmission;
};

/// One a loop. REQUIRES: the chain closes at the pose.
std::vector<LoopMotion> motion_of(const Chain& chain, const Pose& pose);

/// The output's turn for a turn of each lever's own (last: 1), radians a radian: product of the ratios after
/// it.
std::vector<double> carried_to_output(const std::vector<LoopMotion>& motion);

/// The output's turn for each mm of each rod.
std::vector<double> output_rad_per_mm(const std::vector<LoopMotion>& motion);

/// The output's whole free travel with the input held: every joint's play along its rod, two joints a rod.
double lost_motion_rad(const std::vector<LoopMotion>& motion, double play_mm);

}  // namespace fitup::calculations
