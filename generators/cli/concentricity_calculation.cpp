#include "calculations/concentricity_figures.hpp"
#include "calculations/concentricity_reading.hpp"
#include "cli/calculation.hpp"
#include "sheets/concentricity_chart.hpp"
#include "sheets/concentricity_sheet.hpp"

namespace fitup::cli {

namespace {

CalculationResult work_out_concentricity(const calculations::Concentricity& asked,
                                         const CalculationWishes& wishes, const Progress& progress) {
    progress(asked.name + ": adding up");
    const calculations::ConcentricityResult worked = calculations::work_out(asked);
    CalculationResult result;
    result.calculation = "concentricity";
    result.name = asked.name;
    result.revision = asked.revision;
    result.figures = calculations::concentricity_figures(worked);
    result.findings = worked.findings;
    result.holds = worked.holds;
    result.text = sheets::concentricity_text(worked);
    if (wishes.pictures) result.pictures.push_back(picture_of("", sheets::concentricity_chart(worked)));
    return result;
}

}  // namespace

ReadCalculation read_concentricity_calculation(const parameters::Document& document) {
    calculations::ReadConcentricity read = calculations::read_concentricity(document);
    if (!read.asked) return {{}, std::move(read.faults), ""};
    std::string stem = plan::file_stem(read.asked->name, read.asked->revision);
    return {[asked = std::move(*read.asked)](const CalculationWishes& wishes, const Progress& progress) {
                return work_out_concentricity(asked, wishes, progress);
            },
            {},
            std::move(stem)};
}

}  // namespace fitup::cli
