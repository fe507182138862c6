#pragma once

#include <optional>
#include <string>

#include "calculations/bolts_up.hpp"
#include "calculations/pattern_kind.hpp"
#include "calculations/survey.hpp"
#include "parameters/node.hpp"
#include "plan/finding.hpp"

namespace fitup::calculations {

/// What a survey comes to.
struct SurveyResult {
    Survey survey;
    SurveyFit fit;        ///< in the datum's axes, what a trial moved moved
    std::string datum;    ///< where these axes lie, in words
    double chance = 1.0;  ///< that readings of the uncertainty stated disagree as much
    PatternKind kind;
    KindInWords words;
    /// What `bolts_to` asks, and the answer; none where it is not asked.
    struct Bolting {
        BoltingCase asked;
        BoltsUp worked;
        std::string other;  ///< pattern, in words
    };
    std::optional<Bolting> bolting;
    plan::Findings findings;
    /// False where no places were found that the readings agree with, suspects left out: nothing here is to
    /// be relied on then.
    bool fits = true;
    /// Readings that disagree far more than their uncertainties allow are counted: places are less certain
    /// than ellipses and sigmas say.
    bool keeps_blunder = false;
    /// False where the answer is no (the patterns can't bolt up, nothing fits). Suspects are warnings.
    bool holds = true;
};

/// From the adjusted survey to its result. @param fit  of this survey, without troubles
SurveyResult work_out(const Survey& survey, const SurveyFit& fit);

/// "a reading that disagrees is kept: true uncertainty is greater"; "" where none is.
std::string kept_words(const SurveyResult& result);

/// What keeps a survey from being worked out, as faults of the document it was read from.
parameters::Faults faults_of(const std::vector<SurveyTrouble>& troubles,
                             const parameters::Document& document);

}  // namespace fitup::calculations
