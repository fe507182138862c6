#include "sheets/linkage_chart.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "sheets/chart.hpp"

namespace fitup::sheets {

using namespace calculations;

namespace {

void add_positions(const LinkageResult& result, Chart& chart, std::vector<double>& inputs,
                   std::vector<double>& outputs) {
    for (const PositionResult& one : result.positions) {
        chart.bands.push_back(
            {one.wanted_deg - one.below_deg, one.wanted_deg + one.above_deg, false, one.name});
        inputs.push_back(one.input_deg);
        outputs.push_back(one.wanted_deg - one.below_deg);
        outputs.push_back(one.wanted_deg + one.above_deg);
        if (one.gap_mm > 0.0) continue;
        chart.markers.push_back({{one.input_deg, one.got_deg}, one.verdict == Verdict::selects});
        outputs.push_back(one.got_deg);
    }
}

void add_stops(const Linkage& linkage, Chart& chart, std::vector<double>& inputs,
               std::vector<double>& outputs) {
    if (linkage.stops.input) {
        for (const Angle stop : *linkage.stops.input) {
            chart.rules.push_back({stop.degrees(), true, ""});
            inputs.push_back(stop.degrees());
        }
    }
    if (!linkage.stops.output) return;
    for (const Angle stop : *linkage.stops.output) {
        chart.rules.push_back({stop.degrees(), false, "stop"});
        outputs.push_back(stop.degrees());
    }
}

}  // namespace

Drawing linkage_chart(const LinkageResult& result) {
    const Linkage& linkage = result.exact;
    Chart chart;
    chart.title = linkage.name + ": where " + linkage.levers.back().name + " stands over " +
                  linkage.levers.front().name;
    chart.note = "bands: windows   circle: selects, cross: does not   grey: worn joint play   chain: stops";
    std::vector<double> inputs, outputs;
    add_positions(result, chart, inputs, outputs);
    add_stops(linkage, chart, inputs, outputs);
    Curve curve;
    for (const CurvePoint& point : result.curve) {
        curve.points.push_back({point.input_deg, point.output_deg});
        curve.width.push_back(point.lost_worn_deg);
        inputs.push_back(point.input_deg);
        outputs.push_back(point.output_deg);
    }
    chart.curves.push_back(std::move(curve));
    chart.x = axis_over(linkage.levers.front().name + ", degrees", inputs);
    chart.y = axis_over(linkage.levers.back().name + ", degrees", outputs);
    return chart_drawing(chart);
}

}  // namespace fitup::sheets
