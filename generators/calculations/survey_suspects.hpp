#pragma once

#include "calculations/survey_network.hpp"

namespace fitup::calculations {

struct Suspicion {
    std::vector<Suspect> suspects;  ///< the worst first
    bool rest_agrees = true;        ///< no other reading fails its test without them
    double rest_squares = 0.0;      ///< sum of squares without them
};

/// Data snooping: the reading whose leaving-out mends most is left out in a trial and the rest tested again,
/// until all pass; then each one left out is held against the rest once more.
/// @param starts  places near enough to settle from, whatever is left out
Suspicion suspects_of(const Survey& survey, const Network& network, double critical,
                      const std::vector<std::vector<plan::Point>>& starts);

}  // namespace fitup::calculations
