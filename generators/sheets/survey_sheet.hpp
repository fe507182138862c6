#pragma once

#include <string>

#include "calculations/survey_result.hpp"

namespace fitup::sheets {

/// A survey's result as tables for people, in the file's units: points with their uncertainty, readings with
/// what they are off by, what disagrees, what to measure next, and what pattern it is.
std::string survey_text(const calculations::SurveyResult& result);

}  // namespace fitup::sheets
