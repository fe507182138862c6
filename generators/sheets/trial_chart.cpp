#include "sheets/trial_chart.hpp"

#include <algorithm>
#include <cmath>

#include "sheets/chart.hpp"

namespace fitup::sheets {

using calculations::Ladder;
using calculations::TrialRow;

namespace {

constexpr double width_mm = 180.0, height_mm = 70.0, map_height_mm = 120.0;
constexpr std::size_t most_charts = 4;

/// "swing.least_clearance_mm" as words: "swing least clearance, mm".
std::string words_of(const std::string& figure) {
    std::string words = figure, unit;
    for (const char* ending : {"mm3", "mm", "deg", "kg", "mpa", "n"}) {
        const std::string with = std::string("_") + ending;
        if (!words.ends_with(with)) continue;
        unit = std::string(", ") + ending;
        words.resize(words.size() - with.size());
        break;
    }
    std::replace(words.begin(), words.end(), '_', ' ');
    std::replace(words.begin(), words.end(), '.', ' ');
    return words + unit;
}

Chart chart_of(const Ladder& ladder, std::span<const TrialRow> rows, const std::string& figure, double own) {
    Chart chart;
    Curve curve;
    std::vector<double> values;
    for (const TrialRow& row : rows) {
        const auto value = calculations::figure_of(row, figure);
        if (!value || !std::isfinite(*value)) continue;
        curve.points.push_back({row.values.front(), *value});
        values.push_back(*value);
    }
    std::vector<double> inputs = ladder.values;
    inputs.push_back(own);
    chart.x = axis_over(ladder.key, inputs);
    chart.y = axis_over(words_of(figure), values);
    for (const calculations::PassingRun& run : calculations::passing_runs(rows)) {
        // A single value that passes is shown as wide as half a step each way.
        const double half = run.from == run.to ? ladder.step / 2.0 : 0.0;
        chart.bands.push_back({run.from - half, run.to + half, true, ""});
    }
    chart.rules.push_back({own, true, ""});
    chart.curves.push_back(std::move(curve));
    return chart;
}

void append(Drawing& page, const Drawing& chart) {
    const double down_mm = page.height_mm;
    for (auto item : chart.items) {
        if (Line* line = std::get_if<Line>(&item)) {
            for (Place& point : line->points) point[1] += down_mm;
        } else if (RoundLine* round = std::get_if<RoundLine>(&item)) {
            round->centre[1] += down_mm;
        } else {
            std::get<Text>(item).at[1] += down_mm;
        }
        page.items.push_back(std::move(item));
    }
    page.width_mm = std::max(page.width_mm, chart.width_mm);
    page.height_mm += chart.height_mm;
}

Drawing map_of(const std::string& title, std::span<const Ladder> ladders, std::span<const TrialRow> rows,
               std::span<const double> own) {
    Chart chart;
    chart.title = title;
    chart.note = "circle: passes   cross: does not   chain lines: the file's own values";
    for (const TrialRow& row : rows) chart.markers.push_back({{row.values[0], row.values[1]}, row.passes});
    chart.x = axis_over(ladders[0].key, ladders[0].values);
    chart.y = axis_over(ladders[1].key, ladders[1].values);
    chart.rules = {{own[0], true, ""}, {own[1], false, ""}};
    return chart_drawing(chart, width_mm, map_height_mm);
}

}  // namespace

std::vector<std::string> figures_to_show(std::span<const TrialRow> rows, std::size_t most) {
    std::vector<std::string> names = calculations::telling_figures(rows);
    const auto is_minor = [](const std::string& name) {
        return name.ends_with("error_mm") || name == "volume_mm3" || name.ends_with("at_deg") ||
               name.find("_mpa") != std::string::npos || name.starts_with("set.solved") ||
               name.starts_with("builds.") || name == "worst_error_over_window";
    };
    std::erase_if(names, is_minor);
    if (names.size() > most) names.resize(most);
    return names;
}

std::optional<Drawing> trial_chart(const std::string& title, std::span<const Ladder> ladders,
                                   std::span<const TrialRow> rows, std::span<const double> own) {
    if (ladders.size() == 2) return map_of(title, ladders, rows, own);
    const std::vector<std::string> figures = figures_to_show(rows, most_charts);
    if (ladders.size() != 1 || figures.empty()) return {};
    Drawing page;
    page.title = title;
    for (const std::string& figure : figures) {
        Chart chart = chart_of(ladders.front(), rows, figure, own.front());
        if (&figure == &figures.front()) chart.title = title;
        if (&figure == &figures.back()) chart.note = "shaded: passes   chain line: the file's own value";
        append(page, chart_drawing(chart, width_mm, height_mm));
    }
    return page;
}

}  // namespace fitup::sheets
