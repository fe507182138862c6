// Contours that parameter files name: rectangles, slots, polygons with rounded corners, the outline around
// circles.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "plan/contour.hpp"
#include "plan/stroke.hpp"
#include "plan/vector.hpp"

namespace fitup::plan {

namespace {

constexpr double full_turn_rad = 2.0 * std::numbers::pi;

/// The two ends of a corner's rounding, equal at a sharp corner.
struct Corner {
    Point in;
    Point out;
    std::optional<Arc> arc;
};

Corner round_corner(Point before, Point at, Point after, double radius_mm) {
    const Point arriving = unit(at - before);
    const Point leaving = unit(after - at);
    const double turn_rad = angle_between_rad(arriving, leaving);
    if (radius_mm == 0.0 || std::abs(turn_rad) < 1e-12) return {at, at, {}};
    const double tangent_mm = radius_mm * std::tan(std::abs(turn_rad) / 2.0);
    const Point in = at - arriving * tangent_mm;
    const Point to_centre = turn_rad > 0.0 ? left_of(arriving) : left_of(arriving) * -1.0;
    return {in, at + leaving * tangent_mm,
            Arc{in + to_centre * radius_mm, turn_rad > 0.0 ? Turn::anticlockwise : Turn::clockwise}};
}

bool crosses_itself(std::span<const Point> points) {
    const std::size_t count = points.size();
    std::vector<Stroke> sides;
    for (std::size_t i = 0; i < count; ++i) sides.push_back(line_stroke(points[i], points[(i + 1) % count]));
    for (std::size_t i = 0; i < count; ++i) {
        if (length_mm(sides[i]) < same_point_mm) return true;
        const Point along = sides[i].to - sides[i].from;
        const Point next = sides[(i + 1) % count].to - sides[i].to;
        // A side that turns straight back lies on its neighbour.
        if (std::abs(cross(along, next)) <= 1e-12 * length(along) * length(next) && dot(along, next) < 0.0)
            return true;
        for (std::size_t j = i + 2; j < count; ++j) {
            if (i == 0 && j + 1 == count) continue;
            if (distance_mm(box(sides[i]), box(sides[j])) >= same_point_mm) continue;
            if (gap(sides[i], sides[j]).distance_mm < same_point_mm) return true;
        }
    }
    return false;
}

double signed_area_mm2(std::span<const Point> points) {
    double twice_mm2 = 0.0;
    for (std::size_t i = 0; i < points.size(); ++i)
        twice_mm2 += cross(points[i] - points[0], points[(i + 1) % points.size()] - points[0]);
    return twice_mm2 / 2.0;
}

/// Edges of a rounded polygon, anticlockwise; nothing where an edge is too short for its roundings.
std::optional<Contour> rounded(std::span<const Point> points, double radius_mm) {
    const std::size_t count = points.size();
    std::vector<Corner> corners;
    for (std::size_t i = 0; i < count; ++i)
        corners.push_back(
            round_corner(points[(i + count - 1) % count], points[i], points[(i + 1) % count], radius_mm));
    std::vector<Edge> edges;
    for (std::size_t i = 0; i < count; ++i) {
        const std::size_t next = (i + 1) % count;
        const Point along = unit(points[next] - points[i]);
        const double straight_mm = dot(corners[next].in - corners[i].out, along);
        if (straight_mm < -same_point_mm) return {};
        if (corners[i].arc) edges.push_back({corners[i].in, corners[i].arc});
        if (straight_mm > same_point_mm) edges.push_back({corners[i].out, {}});
    }
    return Contour(std::move(edges));
}

double turn_to(double from_rad, double to_rad) {
    const double turn = std::fmod(to_rad - from_rad, full_turn_rad);
    return turn < -1e-12 ? turn + full_turn_rad : std::max(0.0, turn);
}

/// The next circle that the hull's outward normal, turning anticlockwise from `normal_rad` on circle
/// `current`, passes to.
struct Step {
    std::size_t next = 0;
    double turn_rad = full_turn_rad;
};

Step next_on_hull(std::span<const Circle> circles, std::size_t current, double normal_rad) {
    Step step{current, full_turn_rad};
    double farthest_mm = 0.0;
    for (std::size_t j = 0; j < circles.size(); ++j) {
        const Point between = circles[j].centre - circles[current].centre;
        const double apart_mm = length(between);
        const double less_mm = circles[current].radius_mm - circles[j].radius_mm;
        if (j == current || apart_mm <= std::abs(less_mm) || apart_mm < same_point_mm) continue;
        // Where c_j . u + r_j overtakes c_i . u + r_i: the common outer tangent's normal.
        const double overtakes_rad = std::atan2(between.y_mm, between.x_mm) - std::acos(less_mm / apart_mm);
        const double turn_rad = turn_to(normal_rad, overtakes_rad);
        const bool nearer = turn_rad < step.turn_rad - 1e-12;
        const bool level = std::abs(turn_rad - step.turn_rad) <= 1e-12 && apart_mm > farthest_mm;
        if (nearer || level) {
            step = {j, turn_rad};
            farthest_mm = apart_mm;
        }
    }
    return step;
}

std::size_t rightmost(std::span<const Circle> circles) {
    std::size_t best = 0;
    const auto reach = [&](std::size_t i) { return circles[i].centre.x_mm + circles[i].radius_mm; };
    for (std::size_t i = 1; i < circles.size(); ++i) {
        if (reach(i) > reach(best) ||
            (reach(i) == reach(best) && circles[i].radius_mm > circles[best].radius_mm))
            best = i;
    }
    return best;
}

Point on_circle(const Circle& circle, double normal_rad) {
    return circle.centre + Point{std::cos(normal_rad), std::sin(normal_rad)} * circle.radius_mm;
}

}  // namespace

Contour rectangle(Point centre, double width_mm, double height_mm, double corner_radius_mm, Angle turn) {
    const double x = width_mm / 2.0;
    const double y = height_mm / 2.0;
    std::array<Point, 4> corners{Point{x, y}, Point{-x, y}, Point{-x, -y}, Point{x, -y}};
    for (Point& corner : corners)
        corner = centre + Point{corner.x_mm * turn.cos() - corner.y_mm * turn.sin(),
                                corner.x_mm * turn.sin() + corner.y_mm * turn.cos()};
    return *rounded(corners, std::min(corner_radius_mm, std::min(x, y)));
}

Contour slot(Point from, Point to, double width_mm) {
    const Point side = left_of(unit(to - from)) * (width_mm / 2.0);
    return Contour(std::vector<Edge>{{from - side, {}},
                                     {to - side, Arc{to, Turn::anticlockwise}},
                                     {to + side, {}},
                                     {from + side, Arc{from, Turn::anticlockwise}}});
}

std::optional<Contour> polygon(std::span<const Point> points, double corner_radius_mm) {
    if (points.size() < 3 || crosses_itself(points)) return {};
    const double area = signed_area_mm2(points);
    if (std::abs(area) < same_point_mm) return {};
    std::vector<Point> anticlockwise(points.begin(), points.end());
    if (area < 0.0) std::reverse(anticlockwise.begin(), anticlockwise.end());
    return rounded(anticlockwise, corner_radius_mm);
}

Contour hull(std::span<const Circle> circles) {
    const std::size_t first = rightmost(circles);
    std::vector<Edge> edges;
    std::size_t current = first;
    double normal_rad = 0.0;
    double turned_rad = 0.0;
    // Every step passes to another circle, and a hull of n circles has fewer than 2n arcs.
    for (std::size_t guard = 0; guard < 2 * circles.size() + 2; ++guard) {
        const Step step = next_on_hull(circles, current, normal_rad);
        if (step.next == current) return Contour(circles[first]);
        const bool last = turned_rad + step.turn_rad >= full_turn_rad;
        const double turn_rad = last ? full_turn_rad - turned_rad : step.turn_rad;
        if (turn_rad * circles[current].radius_mm > same_point_mm)
            edges.push_back(
                {on_circle(circles[current], normal_rad), Arc{circles[current].centre, Turn::anticlockwise}});
        if (last) break;
        normal_rad += turn_rad;
        turned_rad += turn_rad;
        edges.push_back({on_circle(circles[current], normal_rad), {}});
        current = step.next;
    }
    // The walk starts at normal 0, in the middle of an arc as a rule: its two halves are one arc.
    if (edges.size() > 1 && edges.front().arc && edges.back().arc &&
        distance_mm(edges.front().arc->centre, edges.back().arc->centre) < same_point_mm)
        edges.erase(edges.begin());
    return Contour(std::move(edges));
}

}  // namespace fitup::plan
