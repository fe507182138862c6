#pragma once

#include <span>
#include <vector>

#include "calculations/clearance.hpp"
#include "calculations/rod_clearance.hpp"
#include "plan/finding.hpp"
#include "plan/work.hpp"

/// A lever's swing beside everything it must keep clear of.
namespace fitup::calculations {

/// One clearance an obstacle, in the plan's order.
/// @param obstacles  of the plan's swing, in its order
std::vector<Clearance> swing_clearances(const plan::Plan& plan, std::span<const ObstacleShape> obstacles);

/// `swing` of the result object: least_clearance_mm, error_mm, at_deg, obstacle, points_mm, and each
/// obstacle's own. Nothing without clearances.
plan::Work swing_figures(std::span<const Clearance> clearances, std::span<const ObstacleShape> obstacles);

/// A stop for every obstacle that is touched or may come nearer than the clearance wanted (its error bound
/// counted), by the file's `clearance` or its `rules`.
plan::Findings swing_findings(const plan::Plan& plan, std::span<const Clearance> clearances);

/// `rod_clearances` of a linkage's result object: a row for each rod and obstacle.
plan::Work rod_clearance_figures(std::span<const RodClearance> clearances);

/// The same stops for rods in motion.
plan::Findings rod_clearance_findings(const plan::Swing& surroundings,
                                      std::span<const RodClearance> clearances);

/// What moving past obstacles comes to.
struct MotionJudgement {
    plan::Work figures;
    plan::Findings findings;
};
MotionJudgement judge_swing(const plan::Plan& plan, std::span<const ObstacleShape> obstacles);
MotionJudgement judge_rods(const Linkage& linkage, const Chain& chain,
                           std::span<const ObstacleShape> obstacles);

}  // namespace fitup::calculations
