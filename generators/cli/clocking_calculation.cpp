#include "calculations/clocking_figures.hpp"
#include "calculations/clocking_reading.hpp"
#include "cli/calculation.hpp"
#include "sheets/clocking_sheet.hpp"

namespace fitup::cli {

namespace {

CalculationResult work_out_clocking(const calculations::Clocking& clocking, const CalculationWishes& wishes,
                                    const Progress& progress) {
    const calculations::ClockingResult worked = calculations::work_out(
        clocking, [&](std::string_view what) { progress(clocking.name + ": " + std::string(what)); });
    CalculationResult result;
    result.calculation = "clocking";
    result.name = clocking.name;
    result.revision = clocking.revision;
    result.figures = calculations::clocking_figures(worked);
    result.findings = worked.findings;
    result.holds = worked.passes;
    result.text = sheets::clocking_text(clocking, worked);
    if (wishes.pictures) {
        progress(clocking.name + ": drawing");
        result.pictures.push_back(picture_of("", sheets::clocking_chart(clocking, worked)));
    }
    return result;
}

}  // namespace

ReadCalculation read_clocking_calculation(const parameters::Document& document) {
    calculations::ReadClocking read = calculations::read_clocking(document);
    if (!read.clocking) return {{}, std::move(read.faults), ""};
    std::string stem = plan::file_stem(read.clocking->name, read.clocking->revision);
    return {
        [clocking = std::move(*read.clocking)](const CalculationWishes& wishes, const Progress& progress) {
            return work_out_clocking(clocking, wishes, progress);
        },
        {},
        std::move(stem)};
}

}  // namespace fitup::cli
