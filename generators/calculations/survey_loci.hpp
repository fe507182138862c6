#pragma once

#include <optional>
#include <vector>

#include "calculations/survey_network.hpp"

/// Where a place may lie by one reading to places that are known: on a circle or a line.
namespace fitup::calculations {

struct Locus {
    plan::Point centre;     ///< of the circle, or a point of the line
    plan::Point direction;  ///< of the line, length 1; unused for a circle
    double radius_mm = 0.0;
    bool is_circle = false;
};

using Places = std::vector<std::optional<plan::Point>>;

/// Nothing where the reading doesn't concern `point`, or depends on another place that isn't known.
std::optional<Locus> locus_of(const Observation& observation, int point, const Places& places);

/// Where two loci meet; where they don't, the place between them that comes nearest to both. None for loci
/// that are one or parallel.
std::vector<plan::Point> meetings(const Locus& first, const Locus& second);

/// Some places on a locus, spread over it as far as `reach_mm` from `near`.
std::vector<plan::Point> spread_over(const Locus& locus, plan::Point near, double reach_mm, int count);

}  // namespace fitup::calculations
