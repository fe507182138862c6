#pragma once

#include <span>
#include <string>
#include <vector>

#include "calculations/chain.hpp"
#include "calculations/clearance.hpp"

/// The least distance between a chain's rods in motion and what stands still, over the input's travel,
/// certified.
namespace fitup::calculations {

/// How far the joints of every rod can be from where they are at one input while the input stays within
/// `half_rad` of it: a bound, not an estimate. With D from a driven circle's centre to the driving joint,
/// moved by at most d, the loop's P, Q and C move by at most 2 r d and 2 (|D| + d) d, so that sqrt(P^2 + Q^2
/// - C^2) keeps a least value w, and the driven lever turns by at most 2 l / w for each mm of d.
struct Reach {
    double first_mm = 0.0;  ///< the rod's driving joint
    double last_mm = 0.0;
    bool is_known = false;  ///< false where the chain may open or come to a dead point within the stretch
};
std::vector<Reach> joint_reach(const Chain& chain, double input_rad, double half_rad);

/// A clearance of one rod, `at_deg` of the input.
struct RodClearance {
    std::string rod;
    Clearance clearance;
};

/// How near the answers are held: first-order bounds need many more poses than a swing's.
constexpr double rod_clearance_within_mm = 0.005;

/// Rods with a diameter against every obstacle. A rod is a straight round bar from joint to joint.
std::vector<RodClearance> rod_clearances(const Linkage& linkage, const Chain& chain,
                                         std::span<const ObstacleShape> obstacles);

}  // namespace fitup::calculations
