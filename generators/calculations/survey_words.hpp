#pragma once

#include <span>
#include <string>

#include "calculations/survey.hpp"

/// How a survey's lengths, points and readings are told.
namespace fitup::calculations {

/// "88.19 mm", or "3.4720 in" in a file in inches.
std::string length_text(const Survey& survey, double length_mm);
/// A reading's value, a length or "24.10 degrees".
std::string value_text(const Survey& survey, const Reading& reading, double value);

const std::string& id_of(const Survey& survey, int point);
/// "1, 2 and 3".
std::string ids_text(const Survey& survey, std::span<const int> points);
/// "a span between 2 and 4".
std::string span_between(const Survey& survey, int a, int b);

/// A trouble at a reading, or at a point.
SurveyTrouble trouble_at(const Reading& reading, std::string found, std::string wanted);
SurveyTrouble trouble_at_point(const Survey& survey, int point, std::string found, std::string wanted);

}  // namespace fitup::calculations
