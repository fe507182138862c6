#include "calculations/linkage_figures.hpp"
#include "calculations/linkage_reading.hpp"
#include "calculations/swing.hpp"
#include "cli/calculation.hpp"
#include "cli/part_commands.hpp"
#include "sheets/linkage_chart.hpp"
#include "sheets/linkage_sheet.hpp"

namespace fitup::cli {

namespace {

void add_rod_clearances(const calculations::LinkageResult& worked, CalculationResult& result) {
    const auto rods =
        calculations::judge_rods(worked.exact, calculations::chain_of(worked.exact, worked.branches),
                                 obstacles_of(*worked.exact.surroundings));
    result.figures.insert(result.figures.end(), rods.figures.begin(), rods.figures.end());
    result.text += work_text(rods.figures);
    plan::append(result.findings, rods.findings);
    plan::sort_by_severity(result.findings);
    result.holds = result.holds && rods.findings.empty();
}

CalculationResult work_out_linkage(const calculations::Linkage& linkage, const CalculationWishes& wishes,
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
    if (linkage.surroundings) add_rod_clearances(worked, result);
    if (wishes.pictures) {
        progress(linkage.name + ": drawing");
        result.pictures.push_back(picture_of("", sheets::linkage_chart(worked)));
        result.pictures.push_back(picture_of("-positions", sheets::linkage_picture(worked)));
    }
    return result;
}

}  // namespace

ReadCalculation read_linkage_calculation(const parameters::Document& document) {
    calculations::ReadLinkage read = calculations::read_linkage(document);
    if (!read.linkage) return {{}, std::move(read.faults), ""};
    std::string stem = plan::file_stem(read.linkage->name, read.linkage->revision);
    return {[linkage = std::move(*read.linkage)](const CalculationWishes& wishes, const Progress& progress) {
                return work_out_linkage(linkage, wishes, progress);
            },
            {},
            std::move(stem)};
}

}  // namespace fitup::cli
