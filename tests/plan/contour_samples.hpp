#pragma once

#include <cmath>
#include <numbers>
#include <vector>

#include "plan/contour.hpp"

/// Contours as points, by a way of their own: from circle and edges alone, none of the library's geometry.
namespace fitup::plan::samples {

inline double direction_rad(Point from, Point to) {
    return std::atan2(to.y_mm - from.y_mm, to.x_mm - from.x_mm);
}

inline double arc_sweep_rad(Point from, Point to, const Arc& arc) {
    constexpr double full = 2.0 * std::numbers::pi;
    double sweep = std::remainder(direction_rad(arc.centre, to) - direction_rad(arc.centre, from), full);
    if (arc.turn == Turn::anticlockwise && sweep <= 0.0) sweep += full;
    if (arc.turn == Turn::clockwise && sweep >= 0.0) sweep -= full;
    return sweep;
}

inline void add_arc(std::vector<Point>& points, Point from, Point centre, double sweep_rad, int chords) {
    const double radius = std::hypot(from.x_mm - centre.x_mm, from.y_mm - centre.y_mm);
    const double start = direction_rad(centre, from);
    for (int i = 0; i < chords; ++i) {
        const double at = start + sweep_rad * i / chords;
        points.push_back({centre.x_mm + radius * std::cos(at), centre.y_mm + radius * std::sin(at)});
    }
}

/// Points on the contour in order, `chords` to an arc (four times as many to a circle) and to a line.
inline std::vector<Point> along(const Contour& contour, int chords) {
    std::vector<Point> points;
    if (const Circle* circle = contour.circle()) {
        const Point start{circle->centre.x_mm + circle->radius_mm, circle->centre.y_mm};
        add_arc(points, start, circle->centre, 2.0 * std::numbers::pi, 4 * chords);
    }
    const auto edges = contour.edges();
    for (std::size_t i = 0; i < edges.size(); ++i) {
        const Point from = edges[i].from;
        const Point to = edges[(i + 1) % edges.size()].from;
        if (edges[i].arc) {
            add_arc(points, from, edges[i].arc->centre, arc_sweep_rad(from, to, *edges[i].arc), chords);
            continue;
        }
        for (int k = 0; k < chords; ++k) {
            const double share = static_cast<double>(k) / chords;
            points.push_back(
                {from.x_mm + share * (to.x_mm - from.x_mm), from.y_mm + share * (to.y_mm - from.y_mm)});
        }
    }
    return points;
}

inline double polygon_area_mm2(const std::vector<Point>& points) {
    double twice = 0.0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Point& a = points[i];
        const Point& b = points[(i + 1) % points.size()];
        twice += (a.x_mm - points[0].x_mm) * (b.y_mm - points[0].y_mm) -
                 (a.y_mm - points[0].y_mm) * (b.x_mm - points[0].x_mm);
    }
    return 0.5 * twice;
}

inline double polygon_perimeter_mm(const std::vector<Point>& points) {
    double sum = 0.0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Point& a = points[i];
        const Point& b = points[(i + 1) % points.size()];
        sum += std::hypot(b.x_mm - a.x_mm, b.y_mm - a.y_mm);
    }
    return sum;
}

/// What a measure of the contour's polygon tends to: chords of an arc are short by the square of their
/// number, which two polygons tell (Richardson's extrapolation).
template <typename Measure>
double extrapolated(const Contour& contour, const Measure& measure) {
    const double coarse = measure(along(contour, 512));
    const double fine = measure(along(contour, 1024));
    return fine + (fine - coarse) / 3.0;
}

/// By crossings of a ray to +X with a polygon.
inline bool polygon_holds(const std::vector<Point>& points, Point point) {
    bool inside = false;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Point& a = points[i];
        const Point& b = points[(i + 1) % points.size()];
        if ((a.y_mm > point.y_mm) == (b.y_mm > point.y_mm)) continue;
        const double x = a.x_mm + (point.y_mm - a.y_mm) / (b.y_mm - a.y_mm) * (b.x_mm - a.x_mm);
        if (point.x_mm < x) inside = !inside;
    }
    return inside;
}

}  // namespace fitup::plan::samples
