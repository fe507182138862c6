#include "calculations/survey_residuals.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fitup::calculations {

namespace {

constexpr double single_test = 3.29, whole_survey = 0.05;
/// Normal deviate of 80 % power: with 3.29 it makes Baarda's 4.13.
constexpr double power_deviate = 0.8416;

/// Share of a normal distribution beyond `deviate` on both sides.
double beyond(double deviate) { return std::erfc(deviate / std::numbers::sqrt2); }

Residual counted(const Reading& reading, const Residual& so_far, double variance, double critical) {
    Residual residual = so_far;
    const double share = 1.0 - variance / (reading.sigma * reading.sigma);
    if (share < no_redundancy) return residual;
    residual.redundancy = std::min(share, 1.0);
    const double root = std::sqrt(residual.redundancy);
    residual.normalised = residual.residual / (reading.sigma * root);
    residual.detectable = (critical + power_deviate) * reading.sigma / root;
    return residual;
}

}  // namespace

double critical_value(std::size_t readings) {
    double low = single_test, high = 10.0;
    const double wanted = whole_survey / double(std::max<std::size_t>(readings, 1));
    if (beyond(low) <= wanted) return low;
    for (int i = 0; i < 60; ++i) {
        const double middle = (low + high) / 2.0;
        (beyond(middle) > wanted ? low : high) = middle;
    }
    return high;
}

double fitted_covariance(const std::vector<double>& covariance, std::size_t points,
                         const ReadingEquation& first, const ReadingEquation& second) {
    const std::size_t size = 2 * points;
    double sum = 0.0;
    const auto at = [](const ReadingEquation& equation, int i) {
        return 2 * std::size_t(equation.point[std::size_t(i / 2)]) + std::size_t(i % 2);
    };
    for (int i = 0; i < 2 * first.count; ++i)
        for (int j = 0; j < 2 * second.count; ++j)
            sum += first.rates[std::size_t(i)] * covariance[at(first, i) * size + at(second, j)] *
                   second.rates[std::size_t(j)];
    return sum;
}

double fitted_variance(const std::vector<double>& covariance, std::size_t points,
                       const ReadingEquation& equation) {
    return fitted_covariance(covariance, points, equation, equation);
}

std::vector<Residual> residuals_of(const Survey& survey, const SurveyFit& fit) {
    std::vector<Residual> all;
    for (std::size_t i = 0; i < survey.readings.size(); ++i) {
        const Reading& reading = survey.readings[i];
        const Observation seen = observation_of(survey, i);
        const ReadingEquation equation = equation_of(seen, fit.points_mm);
        Residual residual;
        residual.fitted = equation.fitted;
        residual.residual = misfit(seen, equation.fitted);
        const double variance = fitted_variance(fit.covariance_mm2, survey.points.size(), equation);
        if (reading.left_out)
            residual.normalised = residual.residual / std::sqrt(reading.sigma * reading.sigma + variance);
        else
            residual = counted(reading, residual, variance, fit.critical);
        all.push_back(residual);
    }
    return all;
}

}  // namespace fitup::calculations
