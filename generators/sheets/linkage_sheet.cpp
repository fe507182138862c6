#include "sheets/linkage_sheet.hpp"

#include <algorithm>
#include <cmath>

#include "base/both_units.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"

namespace fitup::sheets {

namespace {

using namespace calculations;

std::string deg(double value) { return fixed_text(value, 2); }
std::string signed_deg(double value) { return (value > 0.0 ? "+" : "") + fixed_text(value, 2); }
std::string percent(double share) {
    return fixed_text(100.0 * share, share > 0.9995 && share < 1.0 ? 4 : 2) + " %";
}

/// "1.000 in" beside millimetres; an angle alone.
std::string size_text(double value, bool is_angle) {
    if (is_angle) return short_text(value, 3) + " deg";
    return both_units(value);
}

std::string solved_text(const LinkageResult& result) {
    if (result.solved.empty()) return "";
    std::vector<TableRow> rows{{"size", "exact", "for the hand", "serves from", "to"}};
    for (const Solved& one : result.solved)
        rows.push_back({one.key, size_text(one.value, one.is_angle), size_text(one.set_value, one.is_angle),
                        short_text(one.serves.least, 2), short_text(one.serves.most, 2)});
    std::string text = "  solved: the worst error is " + percent(result.worst_normalised) +
                       " of its window's half\n" + indented(aligned(rows));
    for (const Solved& one : result.solved) {
        const bool differs = std::abs(one.part_value - one.set_value) > 1e-6;
        if (!one.part_file.empty() && differs && !one.is_set_by_thread)
            text += "    in " + one.part_file + " set " + one.part_key + " to " +
                    size_text(one.set_value, one.is_angle) + "; it has " +
                    size_text(one.part_value, one.is_angle) + "\n";
    }
    return text;
}

std::string window_text(const PositionResult& position) {
    return "-" + short_text(position.below_deg, 2) + " +" + short_text(position.above_deg, 2);
}

TableRow position_row(const PositionResult& one) {
    if (one.gap_mm > 0.0)
        return {one.name,
                deg(one.input_deg),
                deg(one.wanted_deg),
                "-",
                "-",
                window_text(one),
                "-",
                "-",
                "-",
                "-",
                "-",
                to_text(one.verdict)};
    double worst_transmission_deg = 90.0;
    for (const double angle_deg : one.transmission_deg) {
        const double acute_deg = std::min(angle_deg, 180.0 - angle_deg);
        worst_transmission_deg = std::min(worst_transmission_deg, acute_deg);
    }
    std::string verdict = to_text(one.verdict);
    if (one.verdict == Verdict::falls_between && !one.neighbours.empty()) verdict = "falls " + one.neighbours;
    return {one.name,
            deg(one.input_deg),
            deg(one.wanted_deg),
            deg(one.got_deg),
            signed_deg(one.error_deg),
            window_text(one),
            deg(one.margin_deg),
            fixed_text(one.margin_mm, 2),
            deg(one.lost_new_deg) + " / " + deg(one.lost_worn_deg),
            short_text(worst_transmission_deg, 0),
            short_text(one.mechanical_advantage, 2),
            verdict};
}

std::string positions_text(const std::string& title, const std::vector<PositionResult>& positions) {
    std::vector<TableRow> rows{{"position", "input", "wanted", "got", "error", "window", "margin",
                                "mm at arm", "play new / worn", "rod to arm", "advantage", "verdict"}};
    for (const PositionResult& one : positions) rows.push_back(position_row(one));
    return "  " + title + "\n" + indented(aligned(rows));
}

std::string proportion_text(const LinkageResult& result) {
    std::vector<TableRow> rows{{"position", "by proportion", "exact", "difference"}};
    double most_deg = 0.0;
    for (const PositionResult& one : result.positions) {
        if (one.gap_mm > 0.0) continue;
        rows.push_back({one.name, deg(one.proportion_deg), deg(one.got_deg),
                        signed_deg(one.got_deg - one.proportion_deg)});
        most_deg = std::max(most_deg, std::abs(one.got_deg - one.proportion_deg));
    }
    return "  beside the proportion of the arms (off by up to " + deg(most_deg) + " degrees)\n" +
           indented(aligned(rows, Columns::right));
}

std::string travel_text(const LinkageResult& result) {
    std::string text = "  between positions the selector is in no window at inputs of\n";
    std::vector<TableRow> rows;
    for (const Stretch& stretch : result.outside)
        rows.push_back({deg(stretch.from_deg) + " to " + deg(stretch.to_deg), stretch.between});
    text = rows.empty() ? "  the selector is always in a window\n" : text + indented(aligned(rows));
    for (const EndResult& end : result.ends) {
        text += "  end at " + end.position + ": lever's stop at " + deg(end.input_stop_deg) + ", " +
                deg(end.over_travel_deg) + " past the position; the selector stands at " +
                deg(end.output_at_stop_deg);
        if (end.output_stop_deg) text += ", its own stop at " + deg(*end.output_stop_deg);
        text += ": " + end.verdict + "\n";
    }
    return text;
}

const Rod* rod_of(const LinkageResult& result, const std::string& name) {
    for (const Rod& rod : result.exact.rods) {
        if (rod.name == name) return &rod;
    }
    return nullptr;
}

std::string rods_text(const LinkageResult& result) {
    std::string text;
    for (const RodSetting& one : result.set->rods) {
        const Rod* rod = rod_of(result, one.rod);
        if (rod == nullptr || !rod->adjust) continue;
        text += "  " + one.rod + ": make it " + size_text(one.cut_mm, false) + " from joint to joint";
        if (one.steps == 0.0)
            text += " and leave it so";
        else
            text += ", then " + short_text(std::abs(one.steps), 0) + " steps of " +
                    short_text(rod->adjust->step_turns, 3) + " turn (" + short_text(std::abs(one.turns), 2) +
                    " turns) " + (one.steps > 0.0 ? "longer" : "shorter") + ": " +
                    size_text(one.set_mm, false);
        text += "; the thread still gives " + short_text(one.left_shorter_mm, 2) + " mm shorter, " +
                short_text(one.left_longer_mm, 2) + " mm longer\n";
        std::vector<TableRow> rows{{"one turn longer moves", "degrees", "mm at the arm"}};
        for (std::size_t k = 0; k < one.turn_deg.size(); ++k)
            rows.push_back(
                {result.positions[k].name, signed_deg(one.turn_deg[k]), signed_deg(one.turn_mm[k])});
        text += indented(aligned(rows, Columns::right));
    }
    return text;
}

std::string hand_text(const LinkageResult& result) {
    std::string text;
    if (result.builds) {
        const Builds& builds = *result.builds;
        text += "  of " + std::to_string(builds.builds) +
                " builds within the tolerances every position selects in " + percent(builds.all_select) +
                " with worn joints, " + percent(builds.all_select_new) +
                " with new ones; once the rod is set at " + result.set_first + " in " +
                percent(builds.all_select_set) + " worn\n";
    }
    if (result.influences.empty()) return text;
    std::vector<TableRow> rows{{"size", "off by mm", "moves degrees", "at", "of the window's half"}};
    for (std::size_t i = 0; i < std::min<std::size_t>(5, result.influences.size()); ++i) {
        const Influence& one = result.influences[i];
        rows.push_back({one.dimension, short_text(one.tolerance_mm, 3), deg(one.worst_deg), one.position,
                        percent(one.share)});
    }
    return text + "  what matters most\n" + indented(aligned(rows));
}

/// Common practice of fitting a remote control: the box's own detent decides, and a pin holds the chain
/// meanwhile.
std::string sheet_text(const LinkageResult& result) {
    const std::string& selector = result.exact.levers.back().name;
    const std::string& first = result.exact.levers.front().name;
    return "  to set it\n"
           "    1  Disconnect the last rod; feel the selector's detents by hand and leave it in " +
           result.set_first +
           ".\n"
           "    2  Pin " +
           result.rig_lever + " to its frame with the rig pin, drilled at " + result.set_first +
           "; the pin must go in and out freely.\n"
           "    3  Set the rods as counted above. With " +
           first + " at " + result.set_first +
           " the last joint must drop onto its pin freely.\n"
           "    4  If it does not, turn the rod end by single steps until it does: the table above says what "
           "a "
           "turn does.\n"
           "    5  Lock the jam nuts, take the rig pin out, and try every position with " +
           selector +
           " under load and without.\n"
           "    6  Check: thread engaged in every fitting (witness holes), each detent felt at " +
           selector +
           " before the lever's stop, nothing touches,\n       stops, safety catches and washers in place. "
           "Check again after the first day's work.\n";
}

}  // namespace

std::string linkage_text(const LinkageResult& result) {
    std::string text = solved_text(result);
    text += positions_text(
        result.solved.empty() ? "positions (degrees)" : "positions at the exact sizes (degrees)",
        result.positions);
    if (result.set) {
        const bool differs =
            !result.solved.empty() || std::any_of(result.set->rods.begin(), result.set->rods.end(),
                                                  [](const auto& rod) { return rod.steps != 0.0; });
        if (differs) text += positions_text("positions as a hand can set them", result.set->positions);
    }
    text += proportion_text(result) + travel_text(result);
    if (result.set) text += rods_text(result);
    return text + hand_text(result) + sheet_text(result);
}

}  // namespace fitup::sheets
