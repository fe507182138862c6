#include "sheets/view_lines.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "plan/vector.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;

constexpr double full_turn_rad = 2.0 * std::numbers::pi;

plan::Area mirrored_area(const plan::Area& area) {
    plan::Area result{plan::mirrored_x(area.outer), {}};
    for (const plan::Contour& island : area.islands) result.islands.push_back(plan::mirrored_x(island));
    return result;
}

plan::Area moved_area(const plan::Area& area, Point by) {
    plan::Area result{plan::moved(area.outer, Angle(), by), {}};
    for (const plan::Contour& island : area.islands)
        result.islands.push_back(plan::moved(island, Angle(), by));
    return result;
}

plan::Box2 box_of(const ViewLine& line) {
    plan::Box2 box{line.points.front(), line.points.front()};
    for (const Point& point : line.points) box = plan::joined(box, {point, point});
    return box;
}

plan::Box2 box_of(const ViewArc& arc) {
    const auto at = [&](double angle_rad) {
        return arc.centre + Point{std::cos(angle_rad), std::sin(angle_rad)} * arc.radius_mm;
    };
    plan::Stroke stroke{at(arc.from_rad), at(arc.from_rad + arc.sweep_rad), arc.centre, arc.radius_mm,
                        arc.sweep_rad};
    return plan::box(stroke);
}

plan::Box2 box_of(const ViewArea& area) { return area.area.outer.box(); }

}  // namespace

void add_line(View& view, LineKind kind, Point from, Point to) {
    view.items.push_back(ViewLine{kind, {from, to}, false});
}

void add_polyline(View& view, LineKind kind, std::vector<Point> points, bool closed) {
    view.items.push_back(ViewLine{kind, std::move(points), closed});
}

void add_circle(View& view, LineKind kind, Point centre, double radius_mm) {
    view.items.push_back(ViewArc{kind, centre, radius_mm, 0.0, full_turn_rad});
}

void add_stroke(View& view, LineKind kind, const plan::Stroke& stroke) {
    if (stroke.is_line()) return add_line(view, kind, stroke.from, stroke.to);
    if (std::abs(stroke.sweep_rad) > full_turn_rad - 1e-12)
        return add_circle(view, kind, stroke.centre, stroke.radius_mm);
    const Point start = (stroke.sweep_rad > 0.0 ? stroke.from : stroke.to) - stroke.centre;
    view.items.push_back(ViewArc{kind, stroke.centre, stroke.radius_mm, std::atan2(start.y_mm, start.x_mm),
                                 std::abs(stroke.sweep_rad)});
}

void add_contour(View& view, LineKind kind, const plan::Contour& contour) {
    for (const plan::Stroke& stroke : plan::strokes_of(contour)) add_stroke(view, kind, stroke);
}

void add_cross(View& view, Point at, Point along, double first_reach_mm, double second_reach_mm) {
    const Point first = along * first_reach_mm;
    const Point second = plan::left_of(along) * second_reach_mm;
    add_line(view, LineKind::centre, at - first, at + first);
    add_line(view, LineKind::centre, at - second, at + second);
}

View mirrored_x(const View& view) {
    View result = view;
    for (auto& item : result.items) {
        if (auto* line = std::get_if<ViewLine>(&item)) {
            for (Point& point : line->points) point.x_mm = -point.x_mm;
        } else if (auto* arc = std::get_if<ViewArc>(&item)) {
            arc->centre.x_mm = -arc->centre.x_mm;
            if (arc->sweep_rad < full_turn_rad)
                arc->from_rad = std::numbers::pi - arc->from_rad - arc->sweep_rad;
        } else {
            auto& area = std::get<ViewArea>(item);
            area.area = mirrored_area(area.area);
        }
    }
    for (ViewMark& mark : result.marks) mark.at.x_mm = -mark.at.x_mm;
    return result;
}

View moved(const View& view, Point by) {
    View result = view;
    for (auto& item : result.items) {
        if (auto* line = std::get_if<ViewLine>(&item)) {
            for (Point& point : line->points) point = point + by;
        } else if (auto* arc = std::get_if<ViewArc>(&item)) {
            arc->centre = arc->centre + by;
        } else {
            auto& area = std::get<ViewArea>(item);
            area.area = moved_area(area.area, by);
        }
    }
    for (ViewMark& mark : result.marks) mark.at = mark.at + by;
    return result;
}

plan::Box2 box(const View& view) {
    std::optional<plan::Box2> whole;
    for (const auto& item : view.items) {
        const plan::Box2 own = std::visit([](const auto& drawn) { return box_of(drawn); }, item);
        whole = whole ? plan::joined(*whole, own) : own;
    }
    return whole.value_or(plan::Box2{});
}

}  // namespace fitup::sheets
