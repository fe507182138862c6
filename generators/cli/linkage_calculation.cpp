#include "calculations/linkage_figures.hpp"
#include "calculations/linkage_reading.hpp"
#include "cli/calculation.hpp"
#include "sheets/linkage_chart.hpp"
#include "sheets/linkage_sheet.hpp"
#include "sheets/render.hpp"

namespace fitup::cli {

namespace {

/// Dots on the screen and on paper for a millimetre of a picture: 150 an inch.
constexpr double dots_per_mm = 150.0 / 25.4;

Picture picture_of(const std::string& suffix, const sheets::Drawing& drawing) {
    const sheets::Renderer& renderer = sheets::renderer();
    return {suffix, renderer.svg(drawing), renderer.png(drawing, dots_per_mm)};
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
