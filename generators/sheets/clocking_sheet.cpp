#include "sheets/clocking_sheet.hpp"

#include "base/both_units.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "sheets/chart.hpp"

namespace fitup::sheets {

using namespace calculations;

namespace {

/// Ranges told before the rest is only counted.
constexpr std::size_t most_ranges = 12;

std::string mm(double value) { return short_text(value, 3) + " mm"; }
std::string range_text(const TurnRange& range) {
    return fixed_text(range.from_deg, 2) + " to " + fixed_text(range.to_deg, 2);
}

std::string best_text(const ClockingResult& result) {
    const WebField::Metal& metal = result.best.metal;
    std::string text = "  best turn: " + fixed_text(result.best.turn_deg, 2) + " degrees leaves " +
                       both_units(metal.web_mm) + ", wanted " + mm(metal.wanted_mm) + ": " +
                       (result.passes ? "passes with " + mm(metal.spare_mm) + " to spare" : "does not pass") +
                       "\n";
    text += "  from " + range_text(result.flat) + " degrees the web keeps " +
            short_text(100.0 * flat_share, 0) + " % of that\n";
    text += "  as the file stands " + mm(result.now.web_mm) + " is left\n";
    return text;
}

std::string patterns_text(const ClockingResult& result) {
    std::string text = "  write into the plate's file\n";
    for (const PatternTurn& one : result.patterns)
        text += "    " + one.pattern + ": \"rotate\": " + short_text(one.rotate_deg, 2) + "\n";
    return text;
}

std::string pairs_text(const ClockingResult& result) {
    std::vector<TableRow> rows{{"least at the best turn", "web mm", "wanted"}};
    for (const ClockingPair& one : result.least)
        rows.push_back({one.words, fixed_text(one.web_mm, 3), short_text(one.wanted_mm, 3)});
    std::string text = "  ";
    for (const char c : aligned(rows)) text += c == '\n' ? std::string("\n  ") : std::string(1, c);
    text.resize(text.find_last_not_of(' ') + 1);
    return text;
}

std::string passing_text(const ClockingResult& result) {
    if (result.passing.empty()) return "  no turn passes\n";
    std::string text = "turns that pass, degrees:";
    for (std::size_t i = 0; i < std::min(most_ranges, result.passing.size()); ++i)
        text += (i == 0 ? " " : ", ") + range_text(result.passing[i]);
    if (result.passing.size() > most_ranges)
        text += " and " + std::to_string(result.passing.size() - most_ranges) + " more";
    return "  " + wrapped(text, "    ") + "\n";
}

std::string changes_text(const ClockingResult& result) {
    std::string text;
    for (const ClockingChange& one : result.changes)
        text += "  would pass: " + one.words + " " + both_units(one.to_mm) + " in place of " +
                mm(one.from_mm) + ", turned by " + fixed_text(one.turn_deg, 2) + " degrees\n";
    for (const std::string& words : result.in_vain) text += "  " + words + " passes\n";
    return text;
}

}  // namespace

std::string clocking_text(const Clocking&, const ClockingResult& result) {
    return best_text(result) + patterns_text(result) + pairs_text(result) + passing_text(result) +
           changes_text(result) +
           "  counted: each hole that turns, with its recess and drill point, against every other hole,\n"
           "    bore, register, relief and the outline; not marks, nor a hollow, whose bosses follow\n";
}

Drawing clocking_chart(const Clocking& clocking, const ClockingResult& result) {
    Chart chart;
    const std::string turning = clocking.plate.plate().patterns[clocking.plate.turning().front()].name;
    chart.title = clocking.name + ": least web over the turn of " + turning;
    chart.note = "shaded: passes   circle: the best turn   chain: wanted";
    Curve curve;
    std::vector<double> webs{0.0, result.best.metal.wanted_mm, result.best.metal.web_mm};
    for (const ClockingPoint& point : result.curve) {
        curve.points.push_back({point.turn_deg, point.web_mm});
        webs.push_back(point.web_mm);
    }
    for (const TurnRange& range : result.passing)
        chart.bands.push_back({range.from_deg, range.to_deg, true, ""});
    chart.rules.push_back({result.best.metal.wanted_mm, false, "wanted"});
    chart.markers.push_back({{result.best.turn_deg, result.best.metal.web_mm}, result.passes});
    chart.curves.push_back(std::move(curve));
    chart.x = axis_over("turn of " + turning + ", degrees", {clocking.from_deg, clocking.to_deg});
    chart.y = axis_over("least web, mm", webs);
    return chart_drawing(chart);
}

}  // namespace fitup::sheets
