#pragma once

#include <vector>

#include "calculations/convex.hpp"
#include "plan/plan.hpp"

namespace fitup::calculations {

/// Chords that stand for a curve stay this near to it, outside the metal.
constexpr double chord_within_mm = 0.002;

struct LeverShape {
    std::vector<Convex> pieces;
    double stands_out_mm = 0.0;  ///< how far they stand out of the metal at most
};

/// An offset arm or a crank as convex pieces that cover it: exact but for the outside of bends and the hollow
/// side of rounded corners, where they stand out by `chord_within_mm` at most. Holes, slots and a clamp's
/// slit count as metal. REQUIRES: the plan of an arm or a crank.
LeverShape lever_shape(const plan::Plan& plan);

}  // namespace fitup::calculations
