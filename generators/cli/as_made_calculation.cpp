#include "calculations/as_made_reading.hpp"
#include "cli/calculation.hpp"
#include "sheets/as_made_sheet.hpp"
#include "sheets/bolting_chart.hpp"

namespace fitup::cli {

namespace {

Picture casting_picture(const calculations::AsMade& made, const calculations::AsMadeResult& worked,
                        std::size_t casting) {
    const calculations::AsMadeCasting& one = made.castings[casting];
    const auto& located = worked.located[casting];
    return picture_of("-" + one.pattern,
                      located ? sheets::bolting_chart(one.located, located->fit, made.name + ": " + one.words)
                              : sheets::bolting_chart(one.bolting, worked.castings[casting].fit,
                                                      made.name + ": " + one.words));
}

CalculationResult work_out_as_made(const calculations::AsMade& made, const CalculationWishes& wishes,
                                   const Progress& progress) {
    progress(made.name + ": fitting");
    const calculations::AsMadeResult worked = calculations::work_out(made);
    CalculationResult result;
    result.calculation = "as_made";
    result.name = made.name;
    result.revision = made.revision;
    result.figures = calculations::as_made_figures(made, worked);
    result.findings = worked.findings;
    result.holds = worked.holds;
    result.text = sheets::as_made_text(made, worked);
    if (wishes.pictures) {
        progress(made.name + ": drawing");
        result.pictures.push_back(picture_of("", sheets::as_made_chart(made, worked)));
        for (std::size_t i = 0; i < made.castings.size(); ++i)
            result.pictures.push_back(casting_picture(made, worked, i));
    }
    return result;
}

}  // namespace

ReadCalculation read_as_made_calculation(const parameters::Document& document) {
    calculations::ReadAsMade read = calculations::read_as_made(document);
    if (!read.made) return {{}, std::move(read.faults), ""};
    std::string stem = plan::file_stem(read.made->name, read.made->revision);
    return {[made = std::move(*read.made)](const CalculationWishes& wishes, const Progress& progress) {
                return work_out_as_made(made, wishes, progress);
            },
            {},
            std::move(stem)};
}

}  // namespace fitup::cli
