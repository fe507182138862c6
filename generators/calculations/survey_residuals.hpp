#pragma once

#include <vector>

#include "calculations/survey_network.hpp"

/// What each reading's residual says, after Baarda's testing procedure (from memory: Baarda, A testing
/// procedure for use in geodetic networks, 1968): the residual over its own standard deviation is tested at
/// 0.1 %, and an error is called detectable that this finds four times in five.
namespace fitup::calculations {

/// Redundancy numbers under this are rounding: nothing checks the reading.
inline constexpr double no_redundancy = 1e-6;

/// Normalised residual above which a reading is suspected: 3.29 (0.1 % of good readings, Baarda's choice) up
/// to 50 readings; beyond, what lets one good survey in twenty be suspected at all (Bonferroni): with
/// hundreds of readings one in a thousand is no longer rare.
double critical_value(std::size_t readings);

/// Covariance of what a fit gives for two readings, and variance for one, from a 2n x 2n covariance by rows.
double fitted_covariance(const std::vector<double>& covariance, std::size_t points,
                         const ReadingEquation& first, const ReadingEquation& second);
double fitted_variance(const std::vector<double>& covariance, std::size_t points,
                       const ReadingEquation& equation);

/// One a reading of the survey, left out or not; needs the fit's points, covariance and critical value, in
/// the axes that coordinates were measured in.
std::vector<Residual> residuals_of(const Survey& survey, const SurveyFit& fit);

}  // namespace fitup::calculations
