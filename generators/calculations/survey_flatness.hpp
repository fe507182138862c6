#pragma once

#include "calculations/survey_network.hpp"

namespace fitup::calculations {

/// Points of spans alone that lie so nearly on the line through two others, and are held across it so
/// loosely, that a span would have to be read finer to tell the sides apart: there the places and what they
/// are known to, which take small errors to act in proportion, are not to be relied on.
/// @param covariance_mm2  of the places, 2n x 2n by rows
std::vector<SurveyTrouble> too_flat(const Survey& survey, const Network& network,
                                    const std::vector<plan::Point>& at,
                                    const std::vector<double>& covariance_mm2);

}  // namespace fitup::calculations
