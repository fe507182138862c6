#pragma once

#include <optional>
#include <vector>

#include "calculations/survey_network.hpp"

/// Least squares on a network from a start near enough.
namespace fitup::calculations {

inline constexpr int most_settling_steps = 100;

struct Settled {
    std::vector<plan::Point> at_mm;
    double sum_of_squares = 0.0;
    int iterations = 0;
    bool steady = false;  ///< the last step was under 1e-10 mm
};

/// Gauss-Newton, damped where a full step would not help. Free motions are left where the start has them
/// (least change of all places together).
Settled settle(const Network& network, std::vector<plan::Point> start, int most_steps = most_settling_steps);

/// 2n x 2n by rows; along free motions it is zero (inner constraints). Nothing where the places aren't held.
std::optional<std::vector<double>> covariance_of(const Network& network, const std::vector<plan::Point>& at);
/// The same where some place isn't held: there it is very great.
std::vector<double> loose_covariance_of(const Network& network, const std::vector<plan::Point>& at);

}  // namespace fitup::calculations
