#pragma once

#include <vector>

#include "calculations/survey_network.hpp"

/// What can be said of a survey before any place is known: from which points to which it was read.
namespace fitup::calculations {

/// Readings that no adjustment can use: not a number, no uncertainty, a point to itself.
std::vector<SurveyTrouble> unusable_readings(const Survey& survey);

/// Spans over pins that are shorter than the pins together, and in inches would not be: numbers that can't be
/// what they say.
std::vector<std::size_t> perhaps_in_inches(const Survey& survey);
/// That such a one leaves nothing between centres.
SurveyTrouble no_length_trouble(const Survey& survey, std::size_t reading);

/// Points that can still move whatever the lengths are: how many readings are missing, and between which.
/// Empty where every place is held.
std::vector<SurveyTrouble> hanging_points(const Survey& survey, const Network& network);

/// Distances between three points (spans, or what coordinates give) of which one is longer than the other two
/// together.
std::vector<SurveyTrouble> broken_triangles(const Survey& survey, const Network& network);

/// Spans alone without `clockwise`.
std::vector<SurveyTrouble> missing_side(const Survey& survey, const Network& network);

}  // namespace fitup::calculations
