#pragma once

#include <array>
#include <cmath>

/// Arithmetic of points as vectors in space, in mm (the same type as plan::Point3).
namespace fitup {

using Vector = std::array<double, 3>;

inline Vector operator+(const Vector& a, const Vector& b) { return {a[0] + b[0], a[1] + b[1], a[2] + b[2]}; }
inline Vector operator-(const Vector& a, const Vector& b) { return {a[0] - b[0], a[1] - b[1], a[2] - b[2]}; }
inline Vector operator*(const Vector& a, double factor) {
    return {a[0] * factor, a[1] * factor, a[2] * factor};
}
inline double dot(const Vector& a, const Vector& b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }
inline Vector cross(const Vector& a, const Vector& b) {
    return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}
inline double length(const Vector& a) { return std::sqrt(dot(a, a)); }
/// The zero vector stays zero.
inline Vector unit(const Vector& a) {
    const double size = length(a);
    return size == 0.0 ? a : a * (1.0 / size);
}

}  // namespace fitup
