#pragma once

#include "calculations/survey_network.hpp"

/// An adjustment of some of the readings, to see what it says of the others.
namespace fitup::calculations {

struct Trial {
    std::vector<plan::Point> at_mm;
    std::vector<double> covariance_mm2;
    double sum_of_squares = 0.0;
    bool held = false;               ///< every place is
    std::vector<double> normalised;  ///< one a counted reading; 0 where nothing checks it
    double worst = 0.0;              ///< the greatest of them
};

/// The least sum of squares that the starts lead to in a few steps: enough to see which reading mends most.
double sum_of(const Network& network, const std::vector<std::vector<plan::Point>>& starts);
Trial trial_of(const Network& network, const std::vector<std::vector<plan::Point>>& starts);

/// Squared correlation of each reading's test with that of one of them, at given places (1 for itself).
std::vector<double> test_correlations(const Network& network, const std::vector<plan::Point>& at,
                                      int reading);

/// A reading that took no part, held against the trial.
struct Prediction {
    double miss = 0.0;   ///< reading less what the trial gives
    double sigma = 0.0;  ///< of that, doubt of both
    double normalised = 0.0;
};
Prediction predicted(const Observation& observation, const Trial& trial);

}  // namespace fitup::calculations
