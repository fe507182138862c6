#include "calculations/linkage_figures.hpp"
#include "calculations/linkage_reading.hpp"
#include "cli/calculation.hpp"
#include "sheets/linkage_sheet.hpp"

namespace fitup::cli {

namespace {

CalculationResult work_out_linkage(const calculations::Linkage& linkage, const CalculationWishes&,
                                   const Progress& progress) {
    const calculations::LinkageResult worked = calculations::work_out(
        linkage, [&](std::string_view what) { progress(linkage.name + ": " + std::string(what)); });
    CalculationResult result;
    result.calculation = "linkage";
    result.name = linkage.name;
    result.revision = linkage.revision;
    result.figures = calculations::linkage_figures(worked);
    result.findings = worked.findings;
    result.holds = worked.holds;
    result.text = sheets::linkage_text(worked);
    return result;
}

}  // namespace

ReadCalculation read_linkage_calculation(const parameters::Document& document) {
    calculations::ReadLinkage read = calculations::read_linkage(document);
    if (!read.linkage) return {{}, std::move(read.faults), ""};
    CalculationResult named;
    named.name = read.linkage->name;
    named.revision = read.linkage->revision;
    return {[linkage = std::move(*read.linkage)](const CalculationWishes& wishes, const Progress& progress) {
                return work_out_linkage(linkage, wishes, progress);
            },
            {},
            file_stem(named)};
}

}  // namespace fitup::cli
