#include "sheets/report_sections.hpp"

#include <algorithm>
#include <array>

#include "base/both_units.hpp"
#include "base/text.hpp"
#include "sheets/html.hpp"
#include "sheets/size_text.hpp"
#include "sheets/work_lines.hpp"

namespace fitup::sheets {

namespace {

/// How a pattern was read is told by itself: it is what a fitter compares with his casting first.
constexpr const char* pattern_rule = "pattern-side";

std::string fact(const std::string& label, const std::string& text) {
    constexpr std::size_t long_text = 26;
    return element("div", text_element("dt", label) + text_element("dd", text),
                   text.size() > long_text ? attribute("class", "wider") : "");
}

std::string kind_words(std::string kind) {
    std::replace(kind.begin(), kind.end(), '_', ' ');
    return kind;
}

std::size_t count_of(const plan::Findings& findings, plan::Severity severity) {
    return std::size_t(std::count_if(findings.begin(), findings.end(),
                                     [severity](const auto& one) { return one.severity == severity; }));
}

std::string counted(std::size_t count, const std::string& word) {
    return std::to_string(count) + " " + word + (count == 1 ? "" : "s");
}

std::string findings_words(const plan::Findings& findings) {
    return counted(count_of(findings, plan::Severity::stop), "stop") + ", " +
           counted(count_of(findings, plan::Severity::warn), "warning") + ", " +
           counted(count_of(findings, plan::Severity::note), "note");
}

std::string files_words(const std::vector<ReportFile>& files) {
    const auto count = std::size_t(
        std::count_if(files.begin(), files.end(), [](const ReportFile& file) { return file.verified; }));
    return std::to_string(count) + " of " + std::to_string(files.size()) + " read back and compared";
}

std::string bytes_words(std::size_t bytes) {
    if (bytes < 10'000) return std::to_string(bytes) + " bytes";
    return std::to_string((bytes + 500) / 1000) + " kB";
}

bool is_hole(const plan::Plan& plan, const std::string& id) {
    const auto has_id = [&id](const auto& hole) { return hole.id == id; };
    return std::any_of(plan.holes.begin(), plan.holes.end(), has_id) ||
           std::any_of(plan.cross_holes.begin(), plan.cross_holes.end(), has_id);
}

/// "housing-3, gearbox-1" with each hole a link to its row.
std::string where_html(const plan::Plan& plan, const std::string& where) {
    std::string html;
    for (std::size_t at = 0; at <= where.size();) {
        const std::size_t end = std::min(where.find(", ", at), where.size());
        const std::string id = where.substr(at, end - at);
        html += at > 0 ? ", " : "";
        html += is_hole(plan, id) ? text_element("a", id, attribute("href", "#hole=" + id)) : html_text(id);
        at = end + 2;
    }
    return html;
}

std::string number_words(const std::optional<double>& value, const std::string& unit) {
    return value ? short_text(*value, 3) + (unit.empty() ? "" : " " + unit) : "";
}

std::string finding_row(const plan::Plan& plan, const plan::Finding& finding) {
    const std::string severity = plan::to_text(finding.severity);
    const std::string source =
        finding.source.empty() ? "" : text_element("small", "Source: " + finding.source);
    return element(
               "tr",
               text_element("td", severity, attribute("class", "severity " + severity)) +
                   text_element("td", finding.rule) + element("td", where_html(plan, finding.where)) +
                   text_element("td", number_words(finding.value, finding.unit), attribute("class", "n")) +
                   text_element("td", number_words(finding.limit, finding.unit), attribute("class", "n")) +
                   element("td", html_text(finding.message) + source, attribute("class", "words"))) +
           "\n";
}

template <std::size_t count>
std::string head_of(const std::array<const char*, count>& names) {
    std::string cells;
    for (const char* name : names) cells += text_element("th", name, attribute("scope", "col"));
    return element("thead", element("tr", cells));
}

std::string table(const std::string& kind, const std::string& head, const std::string& rows) {
    return element("div", element("table", head + element("tbody", rows), attribute("class", kind)),
                   attribute("class", "wide"));
}

}  // namespace

std::string section(const std::string& id, const std::string& title, const std::string& inner) {
    return element("section", text_element("h2", title) + "\n" + inner + "\n", attribute("id", id)) + "\n";
}

std::string heading_section(const ReportInput& input) {
    const plan::Plan& plan = input.plan;
    std::string facts = fact("part", kind_words(plan.part));
    facts += fact("revision", plan.revision.empty() ? "none" : plan.revision);
    facts += fact("material", plan.material.name) + fact("quantity", std::to_string(plan.quantity));
    facts += fact("over all", over_all_text(input.size.box));
    facts += fact("mass", short_text(input.size.mass_kg, 3) + " kg");
    facts += fact("volume", short_text(input.size.volume_mm3 / 1000.0, 3) + " cm³");
    facts += fact("findings", findings_words(input.findings)) + fact("files", files_words(input.files));
    const std::string note =
        plan.note.empty() ? "" : text_element("p", plan.note, attribute("class", "note"));
    return element("header",
                   text_element("h1", plan.name) + note + element("dl", facts, attribute("class", "facts"))) +
           "\n";
}

std::string patterns_section(const ReportInput& input) {
    std::string items;
    for (const plan::Finding& finding : input.findings) {
        if (finding.rule == pattern_rule) items += text_element("li", finding.message) + "\n";
    }
    return items.empty() ? "" : section("patterns", "How the patterns were taken", element("ul", items));
}

std::string findings_section(const ReportInput& input) {
    std::string rows;
    for (const plan::Finding& finding : input.findings) {
        if (finding.rule != pattern_rule) rows += finding_row(input.plan, finding);
    }
    if (rows.empty())
        return section("findings", "What the shop says", text_element("p", "No rule has anything to say."));
    constexpr std::array<const char*, 6> names{"", "rule", "where", "found", "limit", "what to do"};
    return section("findings", "What the shop says", table("findings", head_of(names), rows));
}

std::string figures_section(const ReportInput& input) {
    std::string rows;
    for (const WorkLine& line : work_lines(input.work)) {
        if (line.label.empty())
            rows += element(
                "tr", text_element("td", line.text, attribute("colspan", "2") + attribute("class", "inset")));
        else
            rows += element("tr", text_element("th", line.label, attribute("scope", "row")) +
                                      text_element("td", line.text));
    }
    const plan::Point3 centre = centre_of_gravity_mm(input.view.mesh);
    rows += element(
        "tr",
        text_element("th", "centre of gravity, by the triangles of the view", attribute("scope", "row")) +
            text_element("td", "X " + short_text(centre[0], 2) + ", Y " + short_text(centre[1], 2) + ", Z " +
                                   short_text(centre[2], 2) + " mm"));
    return section("figures", "Figures", table("figures", "", rows));
}

std::string drawings_section(const ReportInput& input) {
    std::string figures;
    for (const ReportDrawing& drawing : input.drawings) {
        if (drawing.svg.empty()) {
            figures += text_element("p", drawing.title + ": too large for this page; see " +
                                             plan::file_stem(input.plan) + "-drawing.pdf.");
            continue;
        }
        // As a picture of its own: names inside it can't meet those of another, nor can its script run.
        const std::string picture = "<img" + attribute("alt", drawing.title) +
                                    attribute("src", "data:image/svg+xml;base64," + base64(drawing.svg)) +
                                    ">";
        figures += element("figure", picture + text_element("figcaption", drawing.title)) + "\n";
    }
    return figures.empty() ? "" : section("drawing", "Drawing", figures);
}

std::string fasteners_section(const ReportInput& input) {
    std::string rows, note;
    for (const FastenerRow& row : input.fasteners) {
        std::string length = row.length_mm ? both_units(*row.length_mm) : "";
        if (row.plus_reach) {
            length = length.empty() ? "reach" : "reach + " + length;
            note = text_element("p",
                                "\"reach\" is how far it goes into or through the casting, where the "
                                "parameter file does not say.");
        }
        rows += element("tr", text_element("th", row.where, attribute("scope", "row")) +
                                  text_element("td", std::to_string(row.count), attribute("class", "n")) +
                                  text_element("td", row.what + " " + row.size) + text_element("td", length) +
                                  text_element("td", row.made_up_of, attribute("class", "words"))) +
                "\n";
    }
    if (rows.empty()) return "";
    constexpr std::array<const char*, 5> names{"for", "count", "what", "length", "made up of"};
    return section("fasteners", "Fasteners", table("fasteners", head_of(names), rows) + note);
}

std::string files_section(const ReportInput& input) {
    std::string rows;
    for (const ReportFile& file : input.files) {
        const std::string checked =
            file.checked.empty() ? "read back: the bytes that were written" : file.checked;
        rows += element("tr", text_element("th", file.name, attribute("scope", "row")) +
                                  text_element("td", bytes_words(file.bytes), attribute("class", "n")) +
                                  text_element("td", file.verified ? "verified" : "not verified") +
                                  text_element("td", checked, attribute("class", "words"))) +
                "\n";
    }
    if (rows.empty())
        return section("files", "Files made", text_element("p", "This call made no other file."));
    constexpr std::array<const char*, 4> names{"file", "size", "", "what was compared"};
    return section("files", "Files made, and how they were verified", table("files", head_of(names), rows));
}

std::string parameters_section(const ReportInput& input) {
    return section("parameters", "Parameters",
                   text_element("p", input.parameter_file + ", as it was read for this part.") +
                       element("pre", text_element("code", input.parameter_bytes)));
}

std::string cautions_section() {
    return section(
        "cautions", "Cautions",
        text_element(
            "p",
            "A check is no approval, and an adapter is no burst guard. Drive trains, winches and controls "
            "catch and maim: guard shafts, fit a stop that a caught person can reach, never draw castings "
            "together with their bolts, never stand under a load, never run a printed fit-check part. "
            "Local law, class rules, your insurer and a licensed engineer decide.") +
            text_element(
                "p",
                "Work from the STEP file, the drawing and the hole list. Pictures and what turns on this "
                "page are for looking at: of no authority for sizes. Ask before cutting where any two "
                "papers disagree."));
}

}  // namespace fitup::sheets
