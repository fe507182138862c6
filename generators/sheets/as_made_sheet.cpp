#include "sheets/as_made_sheet.hpp"

#include <algorithm>
#include <cmath>

#include "base/both_units.hpp"
#include "base/length_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "plan/vector.hpp"
#include "sheets/chart.hpp"

namespace fitup::sheets {

using namespace calculations;

namespace {

/// The greatest distance is drawn about so long, as a share of the picture.
constexpr double drawn_share = 0.15;
/// The picture's plot is this much wider than high: a page of 180 by 164 mm less its margins.
constexpr double page_width_mm = 180.0, page_height_mm = 164.0;

std::string holes_text(const AsMade& made, const AsMadeResult& result) {
    const LengthText length(made.units == plan::Units::in);
    const auto with_sign = [&length](double value_mm) {
        return (value_mm > 0.0 ? "+" : "") + length.number(value_mm);
    };
    std::vector<TableRow> rows{{"hole", std::string("dx ") + length.unit(), "dy", "off", "may be off", ""}};
    for (const HoleOff& hole : result.holes)
        rows.push_back({hole.id, with_sign(hole.by_mm.x_mm), with_sign(hole.by_mm.y_mm),
                        length.number(hole.distance_mm),
                        hole.zone_mm > 0.0 ? length.number(hole.zone_mm / 2.0) : "-",
                        hole.within_zone ? "" : "too far"});
    return "  where the holes are, less where the plan has them (axes of face B)\n" + indented(aligned(rows));
}

std::string out_of_line_text(const AsMade& made, const AsMadeResult& result) {
    if (!result.out_of_line) return "";
    const auto [first, second] = result.out_of_line->castings;
    return "  " +
           wrapped("laid like this, " + made.castings[first].pattern + " and " +
                       made.castings[second].pattern + " have their centres " +
                       both_units(result.out_of_line->offset_mm) +
                       " apart: the shafts' offset; a dial reads twice that",
                   "    ") +
           "\n";
}

bool is_any_alone(const AsMadeResult& result) {
    return std::any_of(result.located.begin(), result.located.end(), [](const auto& one) { return !one; });
}

/// 1, 2 or 5 times a power of ten, at most `value`.
double round_factor(double value) {
    const double power = std::pow(10.0, std::floor(std::log10(value)));
    for (const double digit : {5.0, 2.0}) {
        if (digit * power <= value) return digit * power;
    }
    return power;
}

double drawn_factor(const AsMadeResult& result, double size_mm) {
    return result.worst_mm > 1e-6 ? round_factor(drawn_share * size_mm / result.worst_mm) : 1.0;
}

}  // namespace

std::string as_made_text(const AsMade& made, const AsMadeResult& result) {
    std::string text = holes_text(made, result);
    for (std::size_t i = 0; i < made.castings.size(); ++i) {
        const AsMadeCasting& casting = made.castings[i];
        text += bolts_up_text(casting.bolting, result.castings[i], casting.words);
        if (result.located[i])
            text +=
                located_text(casting.located, casting.bolting.ids.size(), *result.located[i], casting.words);
    }
    text += out_of_line_text(made, result);
    if (is_any_alone(result))
        text += "  a casting without `dowels` and `register` is laid on by its bolts alone\n";
    return text;
}

Drawing as_made_chart(const AsMade& made, const AsMadeResult& result) {
    const LengthText length(made.units == plan::Units::in);
    Chart chart;
    double reach_mm = 1.0;
    for (const HoleOff& hole : result.holes)
        reach_mm = std::max({reach_mm, std::abs(hole.drawn_mm.x_mm), std::abs(hole.drawn_mm.y_mm)});
    const double factor = drawn_factor(result, 2.0 * reach_mm);
    for (const HoleOff& hole : result.holes) {
        const plan::Point to = hole.drawn_mm + hole.by_mm * factor;
        const Place from{hole.drawn_mm.x_mm / length.unit_mm(), hole.drawn_mm.y_mm / length.unit_mm()};
        chart.curves.push_back(
            {{from, {to.x_mm / length.unit_mm(), to.y_mm / length.unit_mm()}}, Dash::solid, "", {}});
        chart.markers.push_back({from, hole.within_zone, hole.id});
    }
    const double reach = 1.15 * reach_mm / length.unit_mm();
    // The plot is 130 by 130 mm once margins are off, so that both axes have one scale.
    chart.x = {std::string("X on face B, ") + length.unit(), -reach, reach};
    chart.y = {std::string("Y, ") + length.unit(), -reach, reach};
    chart.title = made.name + ": where the holes are off";
    chart.note = "lines: from the plan's place, drawn " + short_text(factor, 3) +
                 " times as long   circle: within its position tolerance   cross: further off";
    return chart_drawing(chart, page_width_mm, page_height_mm);
}

}  // namespace fitup::sheets
