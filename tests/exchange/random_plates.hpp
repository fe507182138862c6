#pragma once

#include <string>

/// Random fair plates as parameter files, each with the volume that its features leave, summed by hand.
namespace fitup::exchange::testing {

struct FairPlate {
    std::string file;
    /// Slab, register and broken edges less every hole and relief: elementary solids, one formula each.
    double volume_mm3 = 0.0;
    /// A hollow is not in the sum: its area is the plan's, its depth is this.
    double hollow_depth_mm = 0.0;
};

/// Drawn from rapidcheck: to be called within a property. No feature meets another one.
FairPlate any_fair_plate();

}  // namespace fitup::exchange::testing
