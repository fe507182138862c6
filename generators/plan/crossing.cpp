#include <algorithm>
#include <cmath>

#include "plan/stroke.hpp"
#include "plan/vector.hpp"

namespace fitup::plan {

namespace {

/// Lines more nearly parallel than this (sine of the angle) have no crossing that doubles can place.
constexpr double least_sine = 1e-14;

bool holds(const Stroke& stroke, Point point) {
    if (!stroke.is_line()) return spans(stroke, point - stroke.centre);
    const Point along = stroke.to - stroke.from;
    const double reach = dot(point - stroke.from, along);
    return reach >= 0.0 && reach <= dot(along, along);
}

void add_if_on(Crossings& found, Point point, const Stroke& first, const Stroke& second) {
    if (holds(first, point) && holds(second, point)) found.at[found.count++] = point;
}

Crossings cross_lines(const Stroke& first, const Stroke& second) {
    Crossings found;
    const Point along = first.to - first.from;
    const Point other = second.to - second.from;
    const double sine = cross(along, other);
    if (std::abs(sine) <= least_sine * length(along) * length(other)) return found;
    const Point between = second.from - first.from;
    const double share = cross(between, other) / sine;
    const double other_share = cross(between, along) / sine;
    if (share >= 0.0 && share <= 1.0 && other_share >= 0.0 && other_share <= 1.0)
        found.at[found.count++] = first.from + along * share;
    return found;
}

Crossings cross_line_arc(const Stroke& line, const Stroke& arc) {
    Crossings found;
    const Point along = unit(line.to - line.from);
    const Point foot = line.from + along * dot(arc.centre - line.from, along);
    const double away = std::abs(cross(along, arc.centre - line.from));
    if (away > arc.radius_mm) return found;
    const double half = std::sqrt((arc.radius_mm - away) * (arc.radius_mm + away));
    add_if_on(found, foot - along * half, line, arc);
    if (half > 0.0) add_if_on(found, foot + along * half, line, arc);
    return found;
}

Crossings cross_arcs(const Stroke& first, const Stroke& second) {
    Crossings found;
    const Point between = second.centre - first.centre;
    const double apart = length(between);
    const double r = first.radius_mm;
    const double s = second.radius_mm;
    if (apart == 0.0 || apart > r + s || apart < std::abs(r - s)) return found;
    const Point along = between * (1.0 / apart);
    const double reach = 0.5 * (apart + (r - s) * (r + s) / apart);
    const double half = std::sqrt(std::max(0.0, (r - reach) * (r + reach)));
    const Point foot = first.centre + along * reach;
    add_if_on(found, foot + left_of(along) * half, first, second);
    if (half > 0.0) add_if_on(found, foot - left_of(along) * half, first, second);
    return found;
}

struct Nearest {
    Gap best;
    explicit Nearest(Gap first) : best(first) {}
    void offer(Point on_first, Point on_second) {
        const double apart = distance_mm(on_first, on_second);
        if (apart < best.distance_mm) best = {apart, on_first, on_second};
    }
};

/// Pairs of points at which the way across is square to both strokes: the only ones besides ends that can be
/// nearest.
void offer_square_line_arc(Nearest& nearest, const Stroke& line, const Stroke& arc, bool line_is_first) {
    const Point on_line = nearest_point(line, arc.centre);
    const Point on_arc = nearest_point(arc, on_line);
    line_is_first ? nearest.offer(on_line, on_arc) : nearest.offer(on_arc, on_line);
}

void offer_square_arcs(Nearest& nearest, const Stroke& first, const Stroke& second) {
    const Point between = second.centre - first.centre;
    const double apart = length(between);
    if (apart == 0.0) return;
    const Point along = between * (1.0 / apart);
    for (const double side : {1.0, -1.0}) {
        if (!spans(first, along * side)) continue;
        const Point on_first = first.centre + along * (side * first.radius_mm);
        nearest.offer(on_first, nearest_point(second, on_first));
    }
}

}  // namespace

Crossings crossings(const Stroke& first, const Stroke& second) {
    if (first.is_line()) return second.is_line() ? cross_lines(first, second) : cross_line_arc(first, second);
    return second.is_line() ? cross_line_arc(second, first) : cross_arcs(first, second);
}

Gap gap(const Stroke& first, const Stroke& second) {
    const Crossings common = crossings(first, second);
    if (common.count > 0) return {0.0, common.at[0], common.at[0]};
    const Point start_foot = nearest_point(second, first.from);
    Nearest nearest({distance_mm(first.from, start_foot), first.from, start_foot});
    nearest.offer(first.to, nearest_point(second, first.to));
    nearest.offer(nearest_point(first, second.from), second.from);
    nearest.offer(nearest_point(first, second.to), second.to);
    if (first.is_line() && !second.is_line()) offer_square_line_arc(nearest, first, second, true);
    if (!first.is_line() && second.is_line()) offer_square_line_arc(nearest, second, first, false);
    if (!first.is_line() && !second.is_line()) offer_square_arcs(nearest, first, second);
    return nearest.best;
}

}  // namespace fitup::plan
