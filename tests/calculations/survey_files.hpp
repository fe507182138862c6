#pragma once

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "calculations/survey_reading.hpp"
#include "calculations/survey_result.hpp"
#include "parameters/open_file.hpp"

/// Surveys as files, for the tests.
namespace fitup::calculations::testing {

inline ReadSurvey read_text(const std::string& text, const std::string& file = "s.json") {
    const std::vector<std::string> kinds{"survey"};
    const parameters::Opened opened = parameters::open_file(text, file, parameters::Role::calculation, kinds);
    if (opened.kind.empty()) return {{}, opened.document.faults};
    return read_survey(opened.document);
}

/// Header and `more` on a line of its own.
inline std::string survey_text(const std::string& more, const std::string& units = "mm") {
    return R"({"format": 1, "calculation": "survey", "name": "face", "units": ")" + units +
           "\", \"measured_on\": \"B\",\n" + more + "}\n";
}

/// The survey of a file that must be right.
inline Survey survey_of(const std::string& more, const std::string& units = "mm",
                        const std::string& file = "s.json") {
    ReadSurvey read = read_text(survey_text(more, units), file);
    for (const auto& fault : read.faults) ADD_FAILURE() << parameters::to_text(fault) << "\nin\n" << more;
    return read.survey.value_or(Survey{});
}

/// The result of a file that must be right.
inline SurveyResult result_of(const std::string& more, const std::string& units = "mm") {
    const Survey survey = survey_of(more, units);
    const Adjusted adjusted = adjust(survey);
    for (const SurveyTrouble& trouble : adjusted.troubles)
        ADD_FAILURE() << trouble.key << ": found " << trouble.found << ", wanted " << trouble.wanted;
    return work_out(survey, adjusted.fit.value_or(SurveyFit{}));
}

/// Messages of the faults, without file and place.
inline std::vector<std::string> messages_of(const std::string& more, const std::string& units = "mm",
                                            const std::string& file = "s.json") {
    std::vector<std::string> texts;
    for (const auto& fault : read_text(survey_text(more, units), file).faults) texts.push_back(fault.message);
    return texts;
}

inline const Reading& reading(const Survey& survey, const std::string& name) {
    for (const Reading& one : survey.readings) {
        if (one.name == name) return one;
    }
    ADD_FAILURE() << "no reading " << name;
    static const Reading none;
    return none;
}

}  // namespace fitup::calculations::testing
