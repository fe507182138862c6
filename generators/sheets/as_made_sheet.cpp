#include "sheets/as_made_sheet.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "base/text_table.hpp"
#include "sheets/chart.hpp"

namespace fitup::sheets {

using namespace calculations;

namespace {

/// The greatest distance is drawn about so long, as a share of the picture.
constexpr double drawn_share = 0.15;
/// The picture's plot is this much wider than high: a page of 180 by 164 mm less its margins.
constexpr double page_width_mm = 180.0, page_height_mm = 164.0;

std::string signed_mm(double value) { return (value > 0.0 ? "+" : "") + fixed_text(value, 3); }

std::string holes_text(const AsMadeResult& result) {
    std::vector<TableRow> rows{{"hole", "dx mm", "dy", "off", "may be off", ""}};
    for (const HoleOff& hole : result.holes)
        rows.push_back({hole.id, signed_mm(hole.by_mm.x_mm), signed_mm(hole.by_mm.y_mm),
                        fixed_text(hole.distance_mm, 3),
                        hole.zone_mm > 0.0 ? fixed_text(hole.zone_mm / 2.0, 3) : "-",
                        hole.within_zone ? "" : "too far"});
    return "  where the holes are, less where the plan has them (axes of face B)\n" + indented(aligned(rows));
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
    std::string text = holes_text(result);
    for (std::size_t i = 0; i < made.castings.size(); ++i)
        text += bolts_up_text(made.castings[i].bolting, result.castings[i], made.castings[i].words);
    text +=
        "  each pattern is laid on its casting by itself; what register, bore and dowels hold is not judged "
        "here\n";
    return text;
}

Drawing as_made_chart(const AsMade& made, const AsMadeResult& result) {
    Chart chart;
    double reach_mm = 1.0;
    for (const HoleOff& hole : result.holes)
        reach_mm = std::max({reach_mm, std::abs(hole.drawn_mm.x_mm), std::abs(hole.drawn_mm.y_mm)});
    const double factor = drawn_factor(result, 2.0 * reach_mm);
    for (const HoleOff& hole : result.holes) {
        const Place from{hole.drawn_mm.x_mm, hole.drawn_mm.y_mm};
        chart.curves.push_back(
            {{from, {from[0] + factor * hole.by_mm.x_mm, from[1] + factor * hole.by_mm.y_mm}},
             Dash::solid,
             "",
             {}});
        chart.markers.push_back({from, hole.within_zone});
    }
    reach_mm *= 1.15;
    // The plot is 130 by 130 mm once margins are off, so that both axes have one scale.
    chart.x = {"X on face B, mm", -reach_mm, reach_mm};
    chart.y = {"Y, mm", -reach_mm, reach_mm};
    chart.title = made.name + ": where the holes are off";
    chart.note = "lines: from the plan's place, drawn " + short_text(factor, 3) +
                 " times as long   circle: within its position tolerance   cross: further off";
    return chart_drawing(chart, page_width_mm, page_height_mm);
}

}  // namespace fitup::sheets
