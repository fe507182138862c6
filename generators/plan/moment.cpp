// Second moment of an area, from its boundary: the divergence of r^2 (x, y) / 4 is r^2.
#include <cmath>
#include <numbers>

#include "plan/contour.hpp"
#include "plan/stroke.hpp"
#include "plan/vector.hpp"

namespace fitup::plan {

namespace {

/// A quarter of the integral of r^2 (x dy - y dx) along a line, from the point that r is measured from.
double line_moment_mm4(Point from, Point to) {
    return cross(from, to) * (dot(from, from) + dot(from, to) + dot(to, to)) / 12.0;
}

/// The same along an arc about `centre`, from direction `start_rad`.
double arc_moment_mm4(Point centre, double radius_mm, double start_rad, double sweep_rad) {
    const double r = radius_mm;
    const double c = length(centre);
    const double from = start_rad - std::atan2(centre.y_mm, centre.x_mm);
    const double to = from + sweep_rad;
    const double u = c * (std::sin(to) - std::sin(from));
    const double u_squared = c * c * (sweep_rad / 2 + (std::sin(2 * to) - std::sin(2 * from)) / 4);
    return (r * (c * c + 3 * r * r) * u + r * r * (c * c + r * r) * sweep_rad + 2 * r * r * u_squared) / 4;
}

double moment_mm4(const Stroke& stroke, Point about) {
    if (stroke.is_line()) return line_moment_mm4(stroke.from - about, stroke.to - about);
    const Point start = stroke.from - stroke.centre;
    return arc_moment_mm4(stroke.centre - about, stroke.radius_mm, std::atan2(start.y_mm, start.x_mm),
                          stroke.sweep_rad);
}

}  // namespace

double polar_moment_mm4(const Contour& contour, Point about) {
    if (const Circle* circle = contour.circle()) {
        const Point away = circle->centre - about;
        const double square = circle->radius_mm * circle->radius_mm;
        return std::numbers::pi * square * (dot(away, away) + square / 2);
    }
    double sum = 0.0;
    for (const Stroke& stroke : contour.strokes()) sum += moment_mm4(stroke, about);
    return sum;
}

}  // namespace fitup::plan
