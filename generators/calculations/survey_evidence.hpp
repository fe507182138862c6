#pragma once

#include "calculations/survey_network.hpp"

/// Whether spans alone say enough to tell one arrangement from the others that they allow.
namespace fitup::calculations {

/// What a net of spans leaves open where points hang on two others, on either side of them, and what speaks
/// against choosing wrongly.
struct Evidence {
    int folds = 0;      ///< choices between two sides, each a factor of 2 in the number of arrangements
    int flaps = 0;      ///< those of them that nothing but the two points joins to the rest
    int checks = 0;     ///< readings to spare, those apart that are spent within what can't fold
    double bits = 0.0;  ///< what a check tells: one in 2^bits wrong arrangements passes it
};

/// Of the net's structure alone: no places are needed. ASSUMES: spans alone.
Evidence evidence_of(const Network& network);

/// Whether a wrong arrangement that fits is unlikely.
/// @param left_out  readings that were left out to make the rest fit, of `readings`
bool tells_one(const Evidence& evidence, std::size_t left_out, std::size_t readings);

/// The same by so far that there is no need to look for another.
bool tells_plainly(const Evidence& evidence);

/// More choices than every one of which can be looked at.
bool has_many_folds(const Evidence& evidence);

/// "a span between 1 and 9 and a span between 4 and 12, or coordinates of 1, 9 and 4": points far from one
/// another along the spans there are. REQUIRES: four points.
std::string words_across(const Survey& survey, const Network& network, int spans);

/// That readings may fit many arrangements, and what would tell them apart.
SurveyTrouble trouble_with(const Evidence& evidence, const Survey& survey, const Network& network);

}  // namespace fitup::calculations
