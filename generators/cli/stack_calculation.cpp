#include "calculations/stack_figures.hpp"
#include "calculations/stack_reading.hpp"
#include "cli/calculation.hpp"
#include "sheets/stack_chart.hpp"
#include "sheets/stack_sheet.hpp"

namespace fitup::cli {

namespace {

CalculationResult work_out_stack(const calculations::Stack& stack, const CalculationWishes& wishes,
                                 const Progress& progress) {
    progress(stack.name + ": adding up");
    const calculations::StackResult worked = calculations::work_out(stack);
    CalculationResult result;
    result.calculation = "stack";
    result.name = stack.name;
    result.revision = stack.revision;
    result.figures = calculations::stack_figures(worked);
    result.findings = worked.findings;
    result.holds = worked.holds;
    result.text = sheets::stack_text(worked);
    if (wishes.pictures) result.pictures.push_back(picture_of("", sheets::stack_chart(worked)));
    return result;
}

}  // namespace

ReadCalculation read_stack_calculation(const parameters::Document& document) {
    calculations::ReadStack read = calculations::read_stack(document);
    if (!read.stack) return {{}, std::move(read.faults), ""};
    std::string stem = plan::file_stem(read.stack->name, read.stack->revision);
    return {[stack = std::move(*read.stack)](const CalculationWishes& wishes, const Progress& progress) {
                return work_out_stack(stack, wishes, progress);
            },
            {},
            std::move(stem)};
}

}  // namespace fitup::cli
