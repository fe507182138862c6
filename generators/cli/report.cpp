#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/units.hpp"
#include "cli/calculation.hpp"
#include "cli/part_result.hpp"
#include "sheets/size_text.hpp"

namespace fitup::cli {

namespace {

std::string value_text(const plan::Finding& finding) {
    if (!finding.value) return "";
    std::string text = " " + short_text(*finding.value, 3) + (finding.unit.empty() ? "" : " " + finding.unit);
    if (finding.limit) text += ", limit " + short_text(*finding.limit, 3);
    return text;
}

std::string finding_text(const plan::Finding& finding, const Console& console) {
    std::string text = "  " + console.severity(finding.severity) + "  " + finding.rule;
    if (!finding.where.empty()) text += "  " + finding.where;
    if (const std::string value = value_text(finding); !value.empty()) text += " :" + value;
    text += "\n        " + wrapped(finding.message, "        ") + "\n";
    if (!finding.source.empty()) text += "        " + wrapped("(" + finding.source + ")", "        ") + "\n";
    return text;
}

std::string bytes_text(std::size_t bytes) {
    if (bytes < 10'000) return std::to_string(bytes) + " bytes";
    if (bytes < 10'000'000) return std::to_string(bytes / 1000) + " kB";
    return std::to_string(bytes / 1'000'000) + " MB";
}

std::string point_text(const plan::Point3& point) {
    return short_text(point[0], 4) + ", " + short_text(point[1], 4) + ", " + short_text(point[2], 4);
}

}  // namespace

/// "3 holes"; of a rod "3 bends".
std::string count_text(const plan::Plan& plan) {
    const std::size_t count =
        plan.rod ? plan.rod->corners.size() - 2 : plan.holes.size() + plan.cross_holes.size();
    return std::to_string(count) + (plan.rod ? " bend" : " hole") + (count == 1 ? "" : "s");
}

std::string files_text(const std::vector<exchange::MadeFile>& files) {
    std::string text;
    for (const exchange::MadeFile& file : files) {
        text += "  wrote   " + file.path.string() + " (" + bytes_text(file.bytes) +
                (file.verified ? ", verified)" : ")") + "\n";
        if (!file.checked.empty()) text += "          " + file.checked + "\n";
    }
    return text;
}

std::string part_text(const PartResult& result, const Console& console) {
    const plan::Plan& plan = result.plan;
    std::string text =
        plan::file_stem(plan) + ": " + plan.part + ", " + plan.material.name + ", " + count_text(plan) + "\n";
    if (result.figures) {
        text += "  size    " + sheets::over_all_text(result.figures->box) + "\n  volume  " +
                fixed_text(result.figures->volume_mm3, 1) + " mm3, mass " +
                fixed_text(result.figures->mass_kg, 3) + " kg, one body\n";
    }
    text += work_text(result.work);
    for (const plan::Finding& finding : result.findings) text += finding_text(finding, console);
    return text + files_text(result.files);
}

std::string calculation_text(const CalculationResult& result, const Console& console) {
    std::string text =
        plan::file_stem(result.name, result.revision) + ": " + result.calculation + "\n" + result.text;
    for (const plan::Finding& finding : result.findings) text += finding_text(finding, console);
    return text + files_text(result.files);
}

std::string faults_text(const parameters::Faults& faults) {
    std::string text;
    for (const parameters::Fault& fault : faults) text += parameters::to_text(fault) + "\n";
    return text;
}

std::string listing_text(const trade::Listing& listing) {
    std::vector<std::vector<std::string>> rows{listing.columns};
    rows.insert(rows.end(), listing.rows.begin(), listing.rows.end());
    return listing.title + "\n" + aligned(rows);
}

std::string measurement_text(const std::string& file, const exchange::Measurement& found) {
    std::string text =
        file + ": " + std::to_string(found.bodies) + (found.bodies == 1 ? " body, " : " bodies, ") +
        (found.closed ? "closed" : "NOT CLOSED") + "\n  size    " + sheets::over_all_text(found.box) +
        (found.unit.empty() ? ", taken as millimetres (an STL has no unit)" : ", stated unit " + found.unit) +
        "\n  volume  " + fixed_text(found.volume_mm3, 1) + " mm3\n";
    std::vector<std::vector<std::string>> rows{
        {"  round wall", "diameter mm", "length mm", "sweep deg", "axis at (x, y, z) mm", "along"}};
    for (const exchange::Cylinder& cylinder : found.cylinders)
        rows.push_back({cylinder.is_hole ? "  hole" : "  outside", short_text(2.0 * cylinder.radius_mm, 4),
                        short_text(cylinder.high_mm - cylinder.low_mm, 4), short_text(cylinder.sweep_deg, 1),
                        point_text(cylinder.axis_point), point_text(cylinder.axis)});
    return found.cylinders.empty() ? text : text + aligned(rows);
}

std::string comparison_text(const Inspected& inspected) {
    if (!inspected.comparison) return "";
    const exchange::Comparison& comparison = *inspected.comparison;
    std::vector<std::vector<std::string>> rows{{"  what", "verdict", "expected", "found", "off by mm"}};
    std::size_t same = 0;
    for (const exchange::Row& row : comparison.rows) {
        if (row.verdict == exchange::Verdict::same) ++same;
        rows.push_back({"  " + row.what, exchange::to_text(row.verdict), row.expected, row.found,
                        short_text(row.difference_mm, 6)});
    }
    const std::string held =
        inspected.as_printed ? std::string(", held against the part with ") + printed_words : "";
    return aligned(rows) + inspected.file + ": " + std::to_string(same) + " of " +
           std::to_string(comparison.rows.size()) + " agree" + held +
           (comparison.agrees() ? "\n" : "; the file is NOT the part\n");
}

}  // namespace fitup::cli
