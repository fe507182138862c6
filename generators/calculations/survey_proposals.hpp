#pragma once

#include "calculations/survey_network.hpp"

namespace fitup::calculations {

/// Measurements not yet taken that would make wrong readings show which now don't: the one that helps most,
/// then the one that helps most after that, at most three. None where every reading is checked by others.
/// @param fit  with residuals, and its covariance in the axes that coordinates were measured in
std::vector<Proposal> proposals_of(const Survey& survey, const Network& network, const SurveyFit& fit);

}  // namespace fitup::calculations
