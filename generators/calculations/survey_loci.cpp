#include "calculations/survey_loci.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using plan::Point;

constexpr double least_mm = 1e-9;
/// Sine of the angle under which two lines count as parallel, or an arc over a chord as the line through it.
constexpr double least_sine = 1e-6;

Locus line(Point through, Point direction) { return {through, direction, 0.0, false}; }
Locus circle(Point centre, double radius_mm) { return {centre, {}, radius_mm, true}; }

const std::optional<Point>& place(const Places& places, int point) { return places[std::size_t(point)]; }

std::optional<Locus> span_locus(const Observation& seen, int point, const Places& places) {
    const int other = seen.a == point ? seen.b : seen.a;
    if (other == point || !place(places, other)) return std::nullopt;
    return circle(*place(places, other), seen.value);
}

/// From the known place a, along the direction to one known place turned by the angle.
std::optional<Locus> ray_locus(const Observation& seen, int point, const Places& places) {
    const int other = seen.c == point ? seen.b : seen.c;
    if (!place(places, seen.a) || !place(places, other)) return std::nullopt;
    const Point from = *place(places, seen.a), along = *place(places, other) - from;
    if (plan::length(along) < least_mm) return std::nullopt;
    return line(from, plan::turned(plan::unit(along), seen.c == point ? seen.value : -seen.value));
}

/// The arc over the chord from b to c under which it is seen at the angle.
std::optional<Locus> arc_locus(const Observation& seen, const Places& places) {
    if (!place(places, seen.b) || !place(places, seen.c)) return std::nullopt;
    const Point b = *place(places, seen.b), chord = *place(places, seen.c) - b;
    const double size = plan::length(chord), sine = std::sin(seen.value);
    if (size < least_mm) return std::nullopt;
    if (std::abs(sine) < least_sine) return line(b, plan::unit(chord));
    const Point off = plan::left_of(chord) * (0.5 * std::cos(seen.value) / sine);
    return circle(b + chord * 0.5 + off, size / (2.0 * std::abs(sine)));
}

std::vector<Point> circles_meet(const Locus& a, const Locus& b) {
    const Point between = b.centre - a.centre;
    const double d = plan::length(between);
    if (d < least_mm) return {};
    const Point along = between * (1.0 / d);
    const double to_chord = (d * d + a.radius_mm * a.radius_mm - b.radius_mm * b.radius_mm) / (2.0 * d);
    const double square = a.radius_mm * a.radius_mm - to_chord * to_chord;
    if (square > 0.0) {
        const Point off = plan::left_of(along) * std::sqrt(square), foot = a.centre + along * to_chord;
        return {foot + off, foot - off};
    }
    // Apart, or one in the other: half way between where each crosses the line of centres.
    const double sense = d > a.radius_mm + b.radius_mm || a.radius_mm > b.radius_mm ? 1.0 : -1.0;
    const double on_b = d > a.radius_mm + b.radius_mm ? -b.radius_mm : sense * b.radius_mm;
    return {a.centre + along * (0.5 * (sense * a.radius_mm + d + on_b))};
}

std::vector<Point> line_meets_circle(const Locus& straight, const Locus& round) {
    const double at = plan::dot(round.centre - straight.centre, straight.direction);
    const Point foot = straight.centre + straight.direction * at;
    const double off = plan::distance_mm(foot, round.centre);
    const double square = round.radius_mm * round.radius_mm - off * off;
    if (square > 0.0) {
        const Point half = straight.direction * std::sqrt(square);
        return {foot + half, foot - half};
    }
    return {foot + (round.centre - foot) * (off > 0.0 ? 0.5 * (1.0 - round.radius_mm / off) : 0.0)};
}

std::vector<Point> lines_meet(const Locus& a, const Locus& b) {
    const double sine = plan::cross(a.direction, b.direction);
    if (std::abs(sine) < least_sine) return {};
    return {a.centre + a.direction * (plan::cross(b.centre - a.centre, b.direction) / sine)};
}

}  // namespace

std::optional<Locus> locus_of(const Observation& seen, int point, const Places& places) {
    switch (seen.quantity) {
        case Quantity::x:
            return seen.a == point ? std::optional(line({seen.value, 0.0}, {0.0, 1.0})) : std::nullopt;
        case Quantity::y:
            return seen.a == point ? std::optional(line({0.0, seen.value}, {1.0, 0.0})) : std::nullopt;
        case Quantity::span:
            return seen.a == point || seen.b == point ? span_locus(seen, point, places) : std::nullopt;
        case Quantity::angle:
            break;
    }
    if (seen.a == point) return arc_locus(seen, places);
    return seen.b == point || seen.c == point ? ray_locus(seen, point, places) : std::nullopt;
}

std::vector<Point> meetings(const Locus& first, const Locus& second) {
    if (first.is_circle && second.is_circle) return circles_meet(first, second);
    if (first.is_circle) return line_meets_circle(second, first);
    return second.is_circle ? line_meets_circle(first, second) : lines_meet(first, second);
}

std::vector<Point> spread_over(const Locus& locus, Point near, double reach_mm, int count) {
    std::vector<Point> all;
    const double foot = plan::dot(near - locus.centre, locus.direction);
    for (int i = 0; i < count; ++i) {
        const double share = (i + 0.5) / count;
        all.push_back(locus.is_circle
                          ? locus.centre +
                                plan::turned({locus.radius_mm, 0.0}, 2.0 * std::numbers::pi * share)
                          : locus.centre + locus.direction * (foot + reach_mm * (2.0 * share - 1.0)));
    }
    return all;
}

}  // namespace fitup::calculations
