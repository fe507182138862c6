#pragma once

#include <cmath>

#include "plan/contour.hpp"

/// Arithmetic of points as plane vectors, in mm.
namespace fitup::plan {

inline Point operator+(Point a, Point b) { return {a.x_mm + b.x_mm, a.y_mm + b.y_mm}; }
inline Point operator-(Point a, Point b) { return {a.x_mm - b.x_mm, a.y_mm - b.y_mm}; }
inline Point operator*(Point a, double factor) { return {a.x_mm * factor, a.y_mm * factor}; }
inline double dot(Point a, Point b) { return a.x_mm * b.x_mm + a.y_mm * b.y_mm; }
/// Positive where b points to the left of a.
inline double cross(Point a, Point b) { return a.x_mm * b.y_mm - a.y_mm * b.x_mm; }
inline double length(Point a) { return std::sqrt(dot(a, a)); }
/// Turned a quarter anticlockwise.
inline Point left_of(Point a) { return {-a.y_mm, a.x_mm}; }
inline Point unit(Point a) { return a * (1.0 / length(a)); }
inline Point turned(Point a, double angle_rad) {
    const double cosine = std::cos(angle_rad);
    const double sine = std::sin(angle_rad);
    return {a.x_mm * cosine - a.y_mm * sine, a.x_mm * sine + a.y_mm * cosine};
}
/// From a to b, anticlockwise positive, in (-pi, pi].
inline double angle_between_rad(Point a, Point b) { return std::atan2(cross(a, b), dot(a, b)); }

}  // namespace fitup::plan
