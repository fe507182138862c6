#include "calculations/survey_trial.hpp"

#include <algorithm>
#include <cmath>

#include "calculations/survey_residuals.hpp"
#include "calculations/survey_settle.hpp"

namespace fitup::calculations {

namespace {

Settled best_of(const Network& network, const std::vector<std::vector<plan::Point>>& starts) {
    Settled best = settle(network, starts.front());
    for (std::size_t i = 1; i < starts.size(); ++i) {
        Settled other = settle(network, starts[i]);
        if (other.sum_of_squares < best.sum_of_squares) best = std::move(other);
    }
    return best;
}

}  // namespace

double sum_of(const Network& network, const std::vector<std::vector<plan::Point>>& starts) {
    return best_of(network, starts).sum_of_squares;
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
