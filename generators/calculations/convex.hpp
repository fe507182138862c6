#pragma once

#include <vector>

#include "base/vector3.hpp"

/// Convex bodies given by what they are the hull of, and the distance between two, certified from both sides.
namespace fitup::calculations {

/// A circle in space, or an arc of one (whose ends then stand among the body's points).
struct Round {
    Vector centre{};
    Vector axis{0, 0, 1};  ///< unit
    double radius_mm = 0.0;
    Vector middle{1, 0, 0};  ///< unit, towards the arc's middle
    double cos_half = -1.0;  ///< cosine of half the arc; -1: the whole circle
};

/// The hull of points and rounds.
struct Convex {
    std::vector<Vector> points;
    std::vector<Round> rounds;
    Vector middle{};        ///< of a ball that holds it
    double reach_mm = 0.0;  ///< its radius
};

/// Sets `middle` and `reach_mm`.
void enclose(Convex& body);

/// The farthest point in a direction (of any length but 0).
Vector farthest(const Convex& body, const Vector& direction);

/// A turn about the Z axis.
struct TurnZ {
    double cos = 1.0, sin = 0.0;
    Vector apply(const Vector& v) const { return {cos * v[0] - sin * v[1], sin * v[0] + cos * v[1], v[2]}; }
    Vector undo(const Vector& v) const { return {cos * v[0] + sin * v[1], -sin * v[0] + cos * v[1], v[2]}; }
};

/// The distance between a body and a turned one: it lies between `lower_mm` and `upper_mm`.
struct Separation {
    double lower_mm = 0.0;
    double upper_mm = 0.0;
    Vector on_fixed{}, on_turned{};
    Vector across{1, 0,
                  0};  ///< unit, square to a plane that holds them apart by `lower_mm`, towards the turned
};

/// Gilbert, Johnson and Keerthi's iteration (1988): the support plane met on the way is the lower bound, the
/// nearest points of the simplex the upper one, so that the answer is certain whatever rounding does. Bodies
/// that touch or overlap have both 0.
/// @param within_mm  how near the bounds must come
Separation separation(const Convex& fixed, const Convex& turned, const TurnZ& turn, double within_mm);

/// How far apart a plane square to `across` holds them; under 0 where it does not.
double apart_along(const Convex& fixed, const Convex& turned, const TurnZ& turn, const Vector& across);

}  // namespace fitup::calculations
