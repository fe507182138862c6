#pragma once

#include <string>
#include <vector>

#include "calculations/linkage.hpp"
#include "calculations/motion.hpp"

/// Sizes of a linkage that can differ: to be solved for, or made a little off.
namespace fitup::calculations {

/// Which size. Of a lever with one arm `arm_out` of the first lever, `arm_in` of any other is that arm, and
/// moves both joints of it.
struct Variation {
    enum class Kind { arm_in, arm_out, angle_between, offset_in, offset_out, rod, pivot_x, pivot_y, pivot_z };
    Kind kind = Kind::rod;
    std::size_t index = 0;  ///< of the lever or the rod

    bool is_angle() const { return kind == Kind::angle_between; }
};

/// "crank.arm_out", "rod-1.length", "crank.pivot x".
std::string key_of(const Linkage& linkage, const Variation& variation);

/// The dimension a variation stands for. REQUIRES: not a pivot.
const Dimension& dimension_of(const Linkage& linkage, const Variation& variation);

double value_of(const Linkage& linkage, const Variation& variation);
void set_value(Linkage& linkage, const Variation& variation, double value);

/// Every dimension with bounds, levers in order, then rods.
std::vector<Variation> unknowns_of(const Linkage& linkage);

/// Every arm, rod and pivot coordinate that a tolerance is stated for.
struct Toleranced {
    Variation variation;
    double tolerance_mm = 0.0;
};
std::vector<Toleranced> toleranced_of(const Linkage& linkage);

/// How the output turns with one size, the input held: radians a mm (an angle: radians a degree).
/// @param motion  of the chain at the pose
double output_rate(const Linkage& linkage, const Chain& chain, const Pose& pose,
                   const std::vector<LoopMotion>& motion, const Variation& variation);

}  // namespace fitup::calculations
