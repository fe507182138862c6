#include "calculations/survey_trial.hpp"

#include <algorithm>
#include <cmath>

#include "calculations/survey_residuals.hpp"
#include "calculations/survey_settle.hpp"

namespace fitup::calculations {

namespace {

constexpr int few_steps = 20;

Settled best_of(const Network& network, const std::vector<std::vector<plan::Point>>& starts,
                int most_steps = most_settling_steps) {
    Settled best = settle(network, starts.front(), most_steps);
    for (std::size_t i = 1; i < starts.size(); ++i) {
        Settled other = settle(network, starts[i], most_steps);
        if (other.sum_of_squares < best.sum_of_squares) best = std::move(other);
    }
    return best;
}

}  // namespace

double sum_of(const Network& network, const std::vector<std::vector<plan::Point>>& starts) {
    return best_of(network, starts, few_steps).sum_of_squares;
}

Trial trial_of(const Network& network, const std::vector<std::vector<plan::Point>>& starts) {
    Settled settled = best_of(network, starts);
    Trial trial{std::move(settled.at_mm), {}, settled.sum_of_squares, false, {}, 0.0};
    const auto covariance = covariance_of(network, trial.at_mm);
    if (!covariance) return trial;
    trial.covariance_mm2 = *covariance;
    trial.held = true;
    for (const Observation& seen : network.seen) {
        const ReadingEquation equation = equation_of(seen, trial.at_mm);
        const double square = seen.sigma * seen.sigma;
        const double share = 1.0 - fitted_variance(trial.covariance_mm2, network.points, equation) / square;
        const double w = share < no_redundancy
                             ? 0.0
                             : misfit(seen, equation.fitted) / (seen.sigma * std::sqrt(std::min(share, 1.0)));
        trial.normalised.push_back(w);
        trial.worst = std::max(trial.worst, std::abs(w));
    }
    return trial;
}

std::vector<double> test_correlations(const Network& network, const std::vector<plan::Point>& at,
                                      int reading) {
    std::vector<double> squares(network.seen.size(), 0.0);
    const auto covariance = covariance_of(network, at);
    const auto one = std::ranges::find(network.seen, reading, &Observation::reading);
    if (!covariance || one == network.seen.end()) return std::vector<double>(network.seen.size(), 1.0);
    const ReadingEquation first = equation_of(*one, at);
    // Covariance of residuals: minus that of what the fit gives for both readings, a reading's own variance
    // added.
    const auto variance = [&](const Observation& seen, const ReadingEquation& equation) {
        return seen.sigma * seen.sigma - fitted_variance(*covariance, network.points, equation);
    };
    for (std::size_t i = 0; i < squares.size(); ++i) {
        const ReadingEquation second = equation_of(network.seen[i], at);
        const double shared = fitted_covariance(*covariance, network.points, first, second);
        const double both = variance(*one, first) * variance(network.seen[i], second);
        const bool checked =
            variance(network.seen[i], second) > no_redundancy * std::pow(network.seen[i].sigma, 2);
        if (checked && both > 0.0) squares[i] = shared * shared / both;
        if (&network.seen[i] == &*one) squares[i] = 1.0;
    }
    return squares;
}

Prediction predicted(const Observation& seen, const Trial& trial) {
    const ReadingEquation equation = equation_of(seen, trial.at_mm);
    Prediction prediction;
    prediction.miss = misfit(seen, equation.fitted);
    const double variance =
        trial.held ? fitted_variance(trial.covariance_mm2, trial.at_mm.size(), equation) : 0.0;
    prediction.sigma = std::sqrt(seen.sigma * seen.sigma + variance);
    prediction.normalised = prediction.miss / prediction.sigma;
    return prediction;
}

}  // namespace fitup::calculations
