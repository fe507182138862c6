#include "calculations/survey_figures.hpp"
#include "calculations/survey_reading.hpp"
#include "calculations/survey_result.hpp"
#include "cli/calculation.hpp"
#include "sheets/bolting_chart.hpp"
#include "sheets/survey_chart.hpp"
#include "sheets/survey_sheet.hpp"

namespace fitup::cli {

namespace {

CalculationResult work_out_survey(const calculations::Survey& survey, const calculations::SurveyFit& fit,
                                  const CalculationWishes& wishes, const Progress& progress) {
    progress(survey.name + ": what pattern it is");
    const calculations::SurveyResult worked = calculations::work_out(survey, fit);
    CalculationResult result;
    result.calculation = "survey";
    result.name = survey.name;
    result.revision = survey.revision;
    result.figures = calculations::survey_figures(worked);
    result.findings = worked.findings;
    result.holds = worked.holds;
    result.text = sheets::survey_text(worked);
    if (wishes.pictures) {
        progress(survey.name + ": drawing");
        result.pictures.push_back(picture_of("", sheets::survey_chart(worked)));
        if (const auto& bolting = worked.bolting)
            result.pictures.push_back(picture_of(
                "-bolts-up", sheets::bolting_chart(bolting->asked, bolting->worked.fit,
                                                   survey.name + ": how it bolts up to " + bolting->other)));
    }
    return result;
}

}  // namespace

/// The adjustment belongs to reading: readings that make no pattern are a wrong file.
ReadCalculation read_survey_calculation(const parameters::Document& document) {
    calculations::ReadSurvey read = calculations::read_survey(document);
    if (!read.survey) return {{}, std::move(read.faults), ""};
    calculations::Adjusted adjusted = calculations::adjust(*read.survey);
    if (!adjusted.fit) return {{}, calculations::faults_of(adjusted.troubles, document), ""};
    std::string stem = plan::file_stem(read.survey->name, read.survey->revision);
    return {[survey = std::move(*read.survey), fit = std::move(*adjusted.fit)](
                const CalculationWishes& wishes, const Progress& progress) {
                return work_out_survey(survey, fit, wishes, progress);
            },
            {},
            std::move(stem)};
}

}  // namespace fitup::cli
