#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "calculations/bolting.hpp"

namespace fitup::calculations {

/// What is not known of the places, and how often to sample it.
struct Doubt {
    /// Of the first pattern's places: 2n x 2n by rows, x and y of each in turn; empty: they are exact.
    std::vector<double> covariance_mm2;
    /// Diameter of the position tolerance that the second pattern's holes are made to: its radius is three
    /// standard deviations along x and along y.
    double made_within_mm = 0.0;
    std::size_t samples = 200'000;
    unsigned long long seed = 1;
};

struct Odds {
    double probability = 1.0;
    /// Of the probability: what another seed would change; never 0, since no number of samples proves one.
    double standard_error = 0.0;
    std::size_t samples = 0;
};

/// How likely the patterns bolt up: every sample is judged by itself, with its own best turn and shift. The
/// same seed gives the same figure on every machine.
/// REQUIRES: the covariance is of the pairs' size, symmetric and not negative beyond rounding.
Odds odds_of(const std::vector<FastenerPair>& pairs, const Doubt& doubt);

/// In per cent, with its error; samples prove no certainty.
std::string chance_text(const Odds& odds);

}  // namespace fitup::calculations
