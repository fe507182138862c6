#pragma once

#include <optional>

#include "calculations/bolts_up.hpp"
#include "calculations/circle_fit.hpp"
#include "calculations/survey.hpp"

namespace fitup::calculations {

/// What a survey's `bolts_to` asks, with the adjusted places and their covariance. The other pattern is the
/// one that the file gives, else the equally spaced one that fits best, on the circle that is expected.
/// @param spacing  of these places
/// @returns nothing where the file does not ask, or there is no pattern to compare with
std::optional<BoltingCase> bolting_case(const Survey& survey, const SurveyFit& fit,
                                        const std::optional<EqualSpacing>& spacing);

/// The other pattern in words: "gearbox", "the equally spaced pattern on 381 mm".
std::string other_pattern_words(const Survey& survey, const std::optional<EqualSpacing>& spacing);

}  // namespace fitup::calculations
