#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include "plan/plan.hpp"

/// The walls of a piece measured by brute force: every curve as a polygon, every side against every other. No
/// geometry of the program is used but the numbers of its contours.
namespace fitup::parts::testing {

/// Chords stay this near to their arcs, so that a wall is measured to twice as much.
inline constexpr double flat_mm = 0.0005;

struct Polygon {
    std::string name;
    std::vector<plan::Point> points;
};

inline void add_arc(std::vector<plan::Point>& points, plan::Point centre, double radius_mm, double from_rad,
                    double sweep_rad) {
    const double step_rad = 2.0 * std::acos(std::max(0.0, 1.0 - flat_mm / radius_mm));
    const int count = std::max(2, int(std::ceil(std::abs(sweep_rad) / step_rad)));
    for (int i = 0; i < count; ++i) {
        const double at_rad = from_rad + sweep_rad * i / count;
        points.push_back(
            {centre.x_mm + radius_mm * std::cos(at_rad), centre.y_mm + radius_mm * std::sin(at_rad)});
    }
}

inline std::vector<plan::Point> flattened(const plan::Contour& contour) {
    constexpr double turn_rad = 2.0 * std::numbers::pi;
    std::vector<plan::Point> points;
    if (const plan::Circle* round = contour.circle()) {
        add_arc(points, round->centre, round->radius_mm, 0.0, turn_rad);
        return points;
    }
    const auto edges = contour.edges();
    for (std::size_t i = 0; i < edges.size(); ++i) {
        const plan::Point from = edges[i].from, to = edges[(i + 1) % edges.size()].from;
        points.push_back(from);
        if (!edges[i].arc) continue;
        const plan::Point centre = edges[i].arc->centre;
        const double from_rad = std::atan2(from.y_mm - centre.y_mm, from.x_mm - centre.x_mm);
        double sweep_rad = std::atan2(to.y_mm - centre.y_mm, to.x_mm - centre.x_mm) - from_rad;
        const bool is_left = edges[i].arc->turn == plan::Turn::anticlockwise;
        if (is_left && sweep_rad <= 0.0) sweep_rad += turn_rad;
        if (!is_left && sweep_rad >= 0.0) sweep_rad -= turn_rad;
        points.pop_back();
        add_arc(points, centre, std::hypot(from.x_mm - centre.x_mm, from.y_mm - centre.y_mm), from_rad,
                sweep_rad);
    }
    return points;
}

inline double apart_mm(plan::Point p, plan::Point a, plan::Point b) {
    const double x = b.x_mm - a.x_mm, y = b.y_mm - a.y_mm, squared = x * x + y * y;
    double share = squared > 0.0 ? ((p.x_mm - a.x_mm) * x + (p.y_mm - a.y_mm) * y) / squared : 0.0;
    share = std::clamp(share, 0.0, 1.0);
    return std::hypot(p.x_mm - a.x_mm - share * x, p.y_mm - a.y_mm - share * y);
}

inline double side_of(plan::Point a, plan::Point b, plan::Point p) {
    return (b.x_mm - a.x_mm) * (p.y_mm - a.y_mm) - (b.y_mm - a.y_mm) * (p.x_mm - a.x_mm);
}

inline double apart_mm(plan::Point a, plan::Point b, plan::Point c, plan::Point d) {
    const bool do_cross =
        side_of(a, b, c) * side_of(a, b, d) < 0.0 && side_of(c, d, a) * side_of(c, d, b) < 0.0;
    if (do_cross) return 0.0;
    return std::min({apart_mm(a, c, d), apart_mm(b, c, d), apart_mm(c, a, b), apart_mm(d, a, b)});
}

struct Thinnest {
    double mm = std::numeric_limits<double>::infinity();
    std::string first, second;
    plan::Point at;
};

/// Only walls below `below_mm` are looked for.
inline void take_thinner(Thinnest& thinnest, const Polygon& first, const Polygon& second) {
    const auto size_a = first.points.size(), size_b = second.points.size();
    for (std::size_t i = 0; i < size_a; ++i) {
        const plan::Point a = first.points[i], b = first.points[(i + 1) % size_a];
        const double left = std::min(a.x_mm, b.x_mm) - thinnest.mm,
                     right = std::max(a.x_mm, b.x_mm) + thinnest.mm;
        const double low = std::min(a.y_mm, b.y_mm) - thinnest.mm,
                     high = std::max(a.y_mm, b.y_mm) + thinnest.mm;
        for (std::size_t j = 0; j < size_b; ++j) {
            const plan::Point c = second.points[j], d = second.points[(j + 1) % size_b];
            if (std::max(c.x_mm, d.x_mm) < left || std::min(c.x_mm, d.x_mm) > right) continue;
            if (std::max(c.y_mm, d.y_mm) < low || std::min(c.y_mm, d.y_mm) > high) continue;
            const double here_mm = apart_mm(a, b, c, d);
            if (here_mm < thinnest.mm) thinnest = {here_mm, first.name, second.name, a};
        }
    }
}

/// A hole through a mock-up is round or a slot.
inline Polygon polygon_of(const plan::Hole& hole) {
    Polygon polygon{hole.id, {}};
    const double radius_mm = hole.diameter_mm / 2.0, turn_rad = hole.slot_direction.radians();
    const double half_mm = hole.slot_length_mm ? *hole.slot_length_mm / 2.0 - radius_mm : 0.0;
    for (const double way : {1.0, -1.0}) {
        const plan::Point middle{hole.at_mm.x_mm + way * half_mm * std::cos(turn_rad),
                                 hole.at_mm.y_mm + way * half_mm * std::sin(turn_rad)};
        add_arc(polygon.points, middle, radius_mm, turn_rad - way * std::numbers::pi / 2.0, std::numbers::pi);
    }
    return polygon;
}

/// Outline, holes and openings of a piece.
inline std::vector<Polygon> through_polygons(const plan::Plan& piece) {
    std::vector<Polygon> polygons{{"outline", flattened(piece.body.outline)}};
    for (const plan::Hole& hole : piece.holes) polygons.push_back(polygon_of(hole));
    for (const plan::Pocket& pocket : piece.pockets) {
        if (pocket.through) polygons.push_back({pocket.id, flattened(pocket.areas.front().outer)});
    }
    return polygons;
}

/// The thinnest wall of a piece between two curves through it; infinite where none is below 1 mm.
inline Thinnest thinnest_wall(const plan::Plan& piece) {
    const std::vector<Polygon> polygons = through_polygons(piece);
    Thinnest thinnest;
    thinnest.mm = 1.0;
    for (std::size_t i = 0; i < polygons.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) take_thinner(thinnest, polygons[i], polygons[j]);
    }
    if (thinnest.mm == 1.0) thinnest.mm = std::numeric_limits<double>::infinity();
    return thinnest;
}

}  // namespace fitup::parts::testing
