#pragma once

#include "calculations/survey_result.hpp"
#include "plan/work.hpp"

namespace fitup::calculations {

/// The result object's own keys, in order: measured_on, datum, points, circle, equal_spacing, readings,
/// suspects, proposals, covariance_mm2 and so on. Millimetres and degrees, as exact as a double.
plan::Work survey_figures(const SurveyResult& result);

}  // namespace fitup::calculations
