#include "sheets/place_view.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "plan/stroke.hpp"
#include "sheets/contour_lines.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;

constexpr double hatch_pen_mm = 0.18, hatch_pitch_mm = 2.5;

void add(Drawing& drawing, const ViewLine& line, const Placing& placing) {
    Line drawn{{}, line.closed, pen_of(line.kind), std::nullopt};
    for (const Point at : line.points) drawn.points.push_back(placing(at));
    drawing.items.emplace_back(std::move(drawn));
}

void add(Drawing& drawing, const ViewArc& arc, const Placing& placing) {
    drawing.items.emplace_back(RoundLine{placing(arc.centre), arc.radius_mm * placing.scale, -arc.from_rad,
                                         -arc.sweep_rad, pen_of(arc.kind), std::nullopt});
}

/// Where a hatching line meets the loops of an area: pairs of these bound metal.
std::vector<double> crossings(const std::vector<Line>& loops, double level) {
    std::vector<double> along;
    for (const Line& loop : loops) {
        for (std::size_t i = 0; i < loop.points.size(); ++i) {
            const Place &a = loop.points[i], &b = loop.points[(i + 1) % loop.points.size()];
            // Rising lines: x + y is the same all along (y goes down on the page).
            const double from = a[0] + a[1] - level, to = b[0] + b[1] - level;
            if ((from < 0.0) == (to < 0.0)) continue;
            const double share = from / (from - to);
            along.push_back(a[0] + share * (b[0] - a[0]));
        }
    }
    std::sort(along.begin(), along.end());
    return along;
}

void add(Drawing& drawing, const ViewArea& cut, const Placing& placing) {
    const auto to_page = [&](Point at) { return placing(at); };
    std::vector<Line> loops{contour_line(cut.area.outer, to_page, Pen{})};
    for (const plan::Contour& island : cut.area.islands)
        loops.push_back(contour_line(island, to_page, Pen{}));
    double least = 1e300, most = -1e300;
    for (const Place& p : loops.front().points) {
        least = std::min(least, p[0] + p[1]);
        most = std::max(most, p[0] + p[1]);
    }
    const double step = hatch_pitch_mm * std::numbers::sqrt2;
    for (double level = std::ceil(least / step) * step; level < most; level += step) {
        const auto along = crossings(loops, level);
        for (std::size_t i = 0; i + 1 < along.size(); i += 2)
            drawing.items.emplace_back(
                Line{{{along[i], level - along[i]}, {along[i + 1], level - along[i + 1]}},
                     false,
                     Pen{hatch_pen_mm, Dash::solid, 0.0},
                     std::nullopt});
    }
}

}  // namespace

Pen pen_of(LineKind kind) {
    switch (kind) {
        case LineKind::visible:
            return {wide_mm, Dash::solid, 0.0};
        case LineKind::hidden:
            return {narrow_mm, Dash::dashed, 0.0};
        case LineKind::thread:
        case LineKind::hatch:
            return {narrow_mm, Dash::solid, 0.0};
        case LineKind::centre:
        case LineKind::circle:
        case LineKind::bend:
        case LineKind::cut_line:
            return {narrow_mm, Dash::chain, 0.0};
    }
    return {};
}

plan::Point quarter_turned(plan::Point at) { return {-at.y_mm, at.x_mm}; }

namespace {

ViewLine quarter_turned(ViewLine line) {
    for (Point& at : line.points) at = sheets::quarter_turned(at);
    return line;
}

ViewArc quarter_turned(ViewArc arc) {
    arc.centre = sheets::quarter_turned(arc.centre);
    arc.from_rad += std::numbers::pi / 2.0;
    return arc;
}

ViewArea quarter_turned(const ViewArea& cut) {
    const Angle quarter = Angle::from_degrees(90.0);
    ViewArea turned{{plan::moved(cut.area.outer, quarter, {}), {}}};
    for (const plan::Contour& island : cut.area.islands)
        turned.area.islands.push_back(plan::moved(island, quarter, {}));
    return turned;
}

}  // namespace

View quarter_turned(const View& view) {
    View turned;
    turned.name = view.name;
    for (const auto& item : view.items)
        std::visit([&turned](const auto& one) { turned.items.emplace_back(quarter_turned(one)); }, item);
    for (ViewMark mark : view.marks) {
        mark.at = quarter_turned(mark.at);
        turned.marks.push_back(std::move(mark));
    }
    return turned;
}

void add_view(Drawing& drawing, const View& view, const Placing& placing) {
    // Hatching first: edges lie over it.
    for (const auto& item : view.items) {
        if (const ViewArea* area = std::get_if<ViewArea>(&item)) add(drawing, *area, placing);
    }
    for (const auto& item : view.items) {
        if (const ViewLine* line = std::get_if<ViewLine>(&item)) add(drawing, *line, placing);
        if (const ViewArc* arc = std::get_if<ViewArc>(&item)) add(drawing, *arc, placing);
    }
}

}  // namespace fitup::sheets
