#include "sheets/report_page.hpp"

#include <algorithm>
#include <cmath>

#include "base/embedded.hpp"
#include "base/text.hpp"
#include "sheets/html.hpp"
#include "sheets/report_sections.hpp"
#include "sheets/report_table.hpp"

namespace fitup::sheets {

/// Style and scripts of the page, compiled in.
namespace page {
std::span<const Embedded> embedded();
}

namespace {

std::string_view asset(std::string_view name) { return embedded_text(page::embedded(), name); }

/// The page may not fetch: whatever got into it, no browser asks anyone.
constexpr const char* policy =
    "default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src data:";

std::string head(const plan::Plan& plan) {
    const std::string title = plan.name + (plan.revision.empty() ? "" : ", revision " + plan.revision);
    return element("head",
                   "<meta charset=\"utf-8\">\n<meta" + attribute("http-equiv", "Content-Security-Policy") +
                       attribute("content", policy) +
                       ">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n" +
                       text_element("title", title) + "\n" + element("style", asset("page")) + "\n") +
           "\n";
}

std::string stills(const ReportView& view) {
    std::string figures;
    for (const StillPicture& still : view.stills) {
        const std::string picture = "<img" + attribute("alt", "the part, " + still.words) +
                                    attribute("src", "data:image/png;base64," + base64(still.png)) + ">";
        figures += element("figure", picture + text_element("figcaption", still.words)) + "\n";
    }
    return element("div", figures, attribute("id", "stills"));
}

/// "#c7cbd0".
std::string colour_text(const std::array<double, 3>& srgb) {
    constexpr std::string_view digits = "0123456789abcdef";
    std::string text = "#";
    for (const double share : srgb) {
        const auto value = std::size_t(std::lround(std::clamp(share, 0.0, 1.0) * 255.0));
        text += {digits[value / 16], digits[value % 16]};
    }
    return text;
}

struct SideButton {
    std::string name;   ///< of the script's sides
    std::string label;  ///< on the button
    std::string words;  ///< how the part then lies
};

std::vector<SideButton> side_buttons(const plan::Plan& plan) {
    if (plan.rod)
        return {{"b", "above", "Seen from above: X to the right, Y up."},
                {"a", "below", "Seen from below, turned over about the Y axis: X to the left, Y up."},
                {"edge", "front", "Seen from the front: X to the right, Z up."},
                {"back", "back", "Seen from the back: X to the left, Z up."},
                {"aslant", "aslant", "Seen aslant from above."}};
    const auto named = [&plan](plan::Side side) {
        const std::string& name = plan.side_names[side == plan::Side::A ? 0 : 1];
        return std::string("Side ") + plan::to_text(side) + " up" + (name.empty() ? "" : " (" + name + ")");
    };
    return {{"b", "side B", named(plan::Side::B) + ": X to the right, Y up, as drawn."},
            {"a", "side A",
             named(plan::Side::A) + ": turned over about the Y axis, X has changed its sign, Y up."},
            {"edge", "edge -Y", "Seen from edge -Y: X to the right, side B on top."},
            {"back", "edge +Y", "Seen from edge +Y: X to the left, side B on top."},
            {"aslant", "aslant", "Seen aslant, side B up."}};
}

std::string view_controls(const plan::Plan& plan) {
    std::string html;
    for (const SideButton& one : side_buttons(plan))
        html += text_element("button", one.label,
                             attribute("type", "button") + attribute("data-side", one.name) +
                                 attribute("data-words", one.words) +
                                 attribute("aria-pressed", one.name == "aslant" ? "true" : "false"));
    html += text_element("button", "whole", attribute("type", "button") + attribute("id", "whole"));
    html += element("label", "<input type=\"checkbox\" id=\"numbers\" checked> numbers");
    return element("div", html, attribute("class", "controls"));
}

constexpr const char* view_help =
    "Drag to turn; drag with the right button, with shift or with two fingers to move; wheel (once clicked) "
    "or "
    "pinch to zoom; click a hole or its row. Keys: arrows, shift and arrows, +, -, B, A, E, F, S for the "
    "sides, "
    "0 for "
    "the whole, N and P for the next and the one before, Esc.";

/// Hidden until the script has it drawn.
std::string turning_view(const ReportInput& input) {
    const std::string canvas =
        element("canvas", "",
                attribute("class", "labels") + attribute("tabindex", "0") + attribute("role", "application") +
                    attribute("aria-label", "The part, to turn, move and zoom with the keys told below it"));
    const std::string words = side_buttons(input.plan).back().words + " ";
    const std::string fineness =
        "Drawn from triangles within " + short_text(input.view.fineness.chord_mm, 3) + " mm of the part.";
    return element(
        "div",
        view_controls(input.plan) + element("div", canvas, attribute("class", "stage")) +
            element("p", text_element("span", words, attribute("id", "look")), attribute("class", "small")) +
            element("p", "", attribute("id", "picked") + attribute("aria-live", "polite")) +
            text_element("p", view_help + (" " + fineness), attribute("class", "small help")),
        attribute("id", "turn") + " hidden" + attribute("data-metal", colour_text(input.view.metal_srgb)));
}

std::string part_section(const ReportInput& input) {
    const std::string table = element("div", report_table(input.plan), attribute("class", "scroll"));
    const std::string note = text_element("p", report_table_note(input.plan), attribute("class", "small"));
    const std::string view =
        element("div", turning_view(input) + stills(input.view), attribute("class", "view"));
    return section("part", "The part",
                   element("div", view + element("div", table + note, attribute("class", "rows")),
                           attribute("class", "side-by-side")));
}

/// The library, then our own in the order they build on each other.
void add_scripts(std::string& page, const ReportView& view) {
    page.append(mesh_element(view.mesh)).append("\n<script>");
    page.append(asset("three")).append("</script>\n<script>\"use strict\";\n");
    for (const char* name : {"mesh", "marks", "view", "labels", "picking", "controls", "start"})
        page.append(asset(name)).append("\n");
    page += "</script>\n";
}

std::string notice_section() {
    return element("footer",
                   element("details", text_element("summary", "Licence of what this page contains") +
                                          text_element("pre", asset("notice")))) +
           "\n";
}

}  // namespace

std::string report_page(const ReportInput& input) {
    // A megabyte or two: put together in place, for each copy costs as long as half the sections.
    std::string page = "<!DOCTYPE html>\n<html lang=\"en\">\n" + head(input.plan) + "<body>\n";
    page.reserve(std::size_t(2) << 20);
    for (const auto section :
         {heading_section, part_section, patterns_section, drawings_section, findings_section,
          figures_section, fasteners_section, files_section, parameters_section})
        page += section(input);
    page.append(cautions_section()).append(notice_section());
    add_scripts(page, input.view);
    return page += "</body>\n</html>\n";
}

}  // namespace fitup::sheets
