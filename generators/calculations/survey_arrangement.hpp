#pragma once

#include "calculations/survey_evidence.hpp"
#include "calculations/survey_settle.hpp"

/// Which of the arrangements that spans allow is meant.
namespace fitup::calculations {

/// Networks of spans alone that have this many points are laid all at once first.
inline constexpr std::size_t great_from = 25;

struct Arrangement {
    Settled settled;
    /// Where trials without some reading start: the layout that most readings fit, where it settled, and
    /// other layouts that came near.
    std::vector<std::vector<plan::Point>> starts;
    std::vector<SurveyTrouble> troubles;  ///< two that can't be told apart; `clockwise` that is contradicted
};

/// Readings counted less unknowns.
int redundancy_of(const Network& network);
/// Whether residuals are no greater than chance leaves them (4 standard deviations of chi-squared, and 12
/// where there is little redundancy).
bool agrees(double sum_of_squares, int redundancy);

/// @param evidence  of spans alone: a few pieces that hang on two points are turned over to see whether they
///                  fit as well
Arrangement arrange(const Survey& survey, const Network& network, const Evidence& evidence = {});

}  // namespace fitup::calculations
