#pragma once

#include <span>
#include <string>
#include <vector>

#include "base/angle.hpp"
#include "calculations/obstacle.hpp"

/// The least distance between a lever and what stands still, over a whole swing, certified.
namespace fitup::calculations {

/// The least distance to one obstacle. The true one is within `error_mm` of `least_mm`, and less by no more
/// than `less_by_mm`.
struct Clearance {
    std::string obstacle;
    double least_mm = 0.0;
    double error_mm = 0.0;
    double less_by_mm = 0.0;
    double at_deg = 0.0;               ///< of the swing
    Vector on_lever{}, on_obstacle{};  ///< at that angle, in the frame of the pivot
    bool touches = false;
};

/// What the answer is certain to; an obstacle's own bound (a STEP file's triangles) comes on top.
constexpr double clearance_within_mm = 1e-4;

/// Branch and bound over the angle. At an angle the plane that holds two pieces apart is kept; over a
/// stretch round it they come no nearer than that plane says at both its ends, less what the curve of a
/// point's path can take: radius times half the stretch squared over two. So nothing between two angles is
/// missed, and stretches that can't hold the least are never looked into.
/// @param lever  in its place at angle zero; turns about Z
Clearance least_clearance(std::span<const Convex> lever, const ObstacleShape& obstacle, Angle from, Angle to);

}  // namespace fitup::calculations
