#include "plan/stroke.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "plan/vector.hpp"

namespace fitup::plan {

namespace {

constexpr double full_turn_rad = 2.0 * std::numbers::pi;

double signed_sweep(Point from_centre, Point to_centre, Turn turn) {
    const double angle = angle_between_rad(from_centre, to_centre);
    if (turn == Turn::anticlockwise) return angle > 0.0 ? angle : angle + full_turn_rad;
    return angle < 0.0 ? angle : angle - full_turn_rad;
}

}  // namespace

double distance_mm(Point a, Point b) { return length(a - b); }

Stroke line_stroke(Point from, Point to) { return {from, to, {}, 0.0, 0.0}; }

Stroke arc_stroke(Point from, Point to, Point centre, Turn turn) {
    return {from, to, centre, distance_mm(from, centre), signed_sweep(from - centre, to - centre, turn)};
}

Stroke circle_stroke(const Circle& circle, Turn turn) {
    const Point start = circle.centre + Point{circle.radius_mm, 0.0};
    return {start, start, circle.centre, circle.radius_mm,
            turn == Turn::anticlockwise ? full_turn_rad : -full_turn_rad};
}

int chords_within(double radius_mm, double sweep_rad, double within_mm) {
    const double share = std::min(1.0, within_mm / std::max(radius_mm, same_point_mm));
    return std::max(1, int(std::ceil(std::abs(sweep_rad) / (2.0 * std::acos(1.0 - share)))));
}

Stroke reversed(const Stroke& stroke) {
    return {stroke.to, stroke.from, stroke.centre, stroke.radius_mm, -stroke.sweep_rad};
}

double length_mm(const Stroke& stroke) {
    return stroke.is_line() ? distance_mm(stroke.from, stroke.to)
                            : stroke.radius_mm * std::abs(stroke.sweep_rad);
}

double twice_swept_area_mm2(const Stroke& stroke, Point about) {
    const double chord = cross(stroke.from - about, stroke.to - about);
    if (stroke.is_line()) return chord;
    const double sweep = stroke.sweep_rad;
    const double bow = std::abs(sweep) < full_turn_rad ? sweep - std::sin(sweep) : sweep;
    return chord + stroke.radius_mm * stroke.radius_mm * bow;
}

Point point_at(const Stroke& stroke, double share) {
    if (share == 0.0) return stroke.from;
    if (share == 1.0) return stroke.to;
    if (stroke.is_line()) return stroke.from + (stroke.to - stroke.from) * share;
    return stroke.centre + turned(stroke.from - stroke.centre, stroke.sweep_rad * share);
}

Point direction_at(const Stroke& stroke, double share) {
    if (stroke.is_line()) return unit(stroke.to - stroke.from);
    const Point outward = unit(point_at(stroke, share) - stroke.centre);
    return stroke.sweep_rad > 0.0 ? left_of(outward) : left_of(outward) * -1.0;
}

double share_of(const Stroke& stroke, Point point) {
    if (stroke.is_line()) {
        const Point along = stroke.to - stroke.from;
        return std::clamp(dot(point - stroke.from, along) / dot(along, along), 0.0, 1.0);
    }
    double angle = angle_between_rad(stroke.from - stroke.centre, point - stroke.centre);
    if (stroke.sweep_rad < 0.0) angle = -angle;
    if (angle < 0.0) angle += full_turn_rad;
    const double sweep = std::abs(stroke.sweep_rad);
    if (angle <= sweep) return angle / sweep;
    // Beyond the end: whichever end is nearer the short way round.
    return angle - sweep < full_turn_rad - angle ? 1.0 : 0.0;
}

Stroke part_of(const Stroke& stroke, double from_share, double to_share) {
    Stroke part = stroke;
    part.from = point_at(stroke, from_share);
    part.to = point_at(stroke, to_share);
    if (!stroke.is_line()) part.sweep_rad = stroke.sweep_rad * (to_share - from_share);
    return part;
}

bool spans(const Stroke& arc, Point direction) {
    const double sweep = std::abs(arc.sweep_rad);
    if (sweep >= full_turn_rad) return true;
    Point start = arc.from - arc.centre;
    Point end = arc.to - arc.centre;
    if (arc.sweep_rad < 0.0) std::swap(start, end);
    const double after_start = cross(start, direction);
    const double before_end = cross(direction, end);
    if (sweep <= std::numbers::pi) return after_start >= 0.0 && before_end >= 0.0;
    return after_start >= 0.0 || before_end >= 0.0;
}

Point nearest_point(const Stroke& stroke, Point point) {
    if (stroke.is_line()) {
        const Point along = stroke.to - stroke.from;
        const double share = dot(point - stroke.from, along) / dot(along, along);
        if (share <= 0.0) return stroke.from;
        return share >= 1.0 ? stroke.to : stroke.from + along * share;
    }
    const Point outward = point - stroke.centre;
    const double far = length(outward);
    if (far > 0.0 && spans(stroke, outward)) return stroke.centre + outward * (stroke.radius_mm / far);
    const Point to_start = point - stroke.from;
    const Point to_end = point - stroke.to;
    return dot(to_start, to_start) <= dot(to_end, to_end) ? stroke.from : stroke.to;
}

Box2 joined(const Box2& a, const Box2& b) {
    return {{std::min(a.least.x_mm, b.least.x_mm), std::min(a.least.y_mm, b.least.y_mm)},
            {std::max(a.most.x_mm, b.most.x_mm), std::max(a.most.y_mm, b.most.y_mm)}};
}

double distance_mm(const Box2& a, const Box2& b) {
    const double x = std::max({0.0, a.least.x_mm - b.most.x_mm, b.least.x_mm - a.most.x_mm});
    const double y = std::max({0.0, a.least.y_mm - b.most.y_mm, b.least.y_mm - a.most.y_mm});
    return x == 0.0 ? y : y == 0.0 ? x : std::sqrt(x * x + y * y);
}

double distance_mm(const Box2& box, Point point) { return distance_mm(box, Box2{point, point}); }

Box2 box(const Stroke& stroke) {
    Box2 bounds = joined(Box2{stroke.from, stroke.from}, Box2{stroke.to, stroke.to});
    if (stroke.is_line()) return bounds;
    const double radius = stroke.radius_mm;
    for (const Point reach :
         {Point{radius, 0.0}, Point{0.0, radius}, Point{-radius, 0.0}, Point{0.0, -radius}}) {
        const Point extreme = stroke.centre + reach;
        if (spans(stroke, reach)) bounds = joined(bounds, Box2{extreme, extreme});
    }
    return bounds;
}

}  // namespace fitup::plan
