#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "plan/stroke.hpp"

namespace fitup::plan {

/// What to do where curves of different strokes lie on one another for a stretch.
enum class SharedStretches {
    none,    ///< there are none: pieces on one another do not close
    joined,  ///< of two that run the same way one counts; against each other they bound nothing
};

/// Loops along the boundary of a region whose curves are known: every stroke is cut where it crosses another,
/// the pieces whose middle lies on the region's boundary are kept and joined end to start. The region lies on
/// the left of each stroke.
///
/// @param on_boundary  whether a point of a raw stroke belongs to the region's boundary
/// @returns nothing when the pieces do not close (two curves nearer than doubles can tell apart)
std::optional<std::vector<std::vector<Stroke>>> trace(const std::vector<Stroke>& raw,
                                                      const std::function<bool(Point)>& on_boundary,
                                                      SharedStretches shared = SharedStretches::none);

/// A closed loop as a contour: pieces of one line or circle joined again, a clockwise loop turned round.
Contour contour_of(std::vector<Stroke> loop);

/// Loops as areas: each clockwise one is an island of the least area around it.
std::vector<Area> areas_of(const std::vector<std::vector<Stroke>>& loops);

/// Positive for an anticlockwise loop.
double signed_area_mm2(const std::vector<Stroke>& loop);

}  // namespace fitup::plan
