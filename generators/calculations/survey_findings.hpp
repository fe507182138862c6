#pragma once

#include "calculations/survey_result.hpp"

namespace fitup::calculations {

/// What is to be said of a survey worked out: readings that don't agree with the rest and what may have gone
/// wrong, readings that nothing checks and what would check them, contacts that don't fit one hole, a pattern
/// that nearly bolts up mirrored, uncertainties that were taken by default.
plan::Findings survey_findings(const SurveyResult& result);

}  // namespace fitup::calculations
