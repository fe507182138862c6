#include "calculations/survey_network.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using plan::Point;

/// Rates where two places are one: any direction will do, as long as it is finite.
constexpr double least_length_mm = 1e-9;

ReadingEquation span_equation(const Observation& seen, std::span<const Point> at) {
    const Point between = at[std::size_t(seen.b)] - at[std::size_t(seen.a)];
    const double size = plan::length(between);
    const Point along = size > least_length_mm ? between * (1.0 / size) : Point{1.0, 0.0};
    return {size, 2, {seen.a, seen.b, -1}, {-along.x_mm, -along.y_mm, along.x_mm, along.y_mm}};
}

/// Change of the direction from one place to another, with the other.
Point direction_rate(Point between) {
    const double square = std::max(plan::dot(between, between), least_length_mm * least_length_mm);
    return plan::left_of(between) * (1.0 / square);
}

ReadingEquation angle_equation(const Observation& seen, std::span<const Point> at) {
    const Point to_b = at[std::size_t(seen.b)] - at[std::size_t(seen.a)];
    const Point to_c = at[std::size_t(seen.c)] - at[std::size_t(seen.a)];
    const Point b = direction_rate(to_b) * -1.0, c = direction_rate(to_c);
    const Point a = (b + c) * -1.0;
    return {plan::angle_between_rad(to_b, to_c),
            3,
            {seen.a, seen.b, seen.c},
            {a.x_mm, a.y_mm, b.x_mm, b.y_mm, c.x_mm, c.y_mm}};
}

std::size_t points_with(const Network& network, Quantity quantity) {
    std::set<int> points;
    for (const Observation& seen : network.seen)
        if (seen.quantity == quantity) points.insert(seen.a);
    return points.size();
}

}  // namespace

Observation observation_of(const Survey& survey, std::size_t reading) {
    const Reading& r = survey.readings[reading];
    return {r.quantity, r.a, r.b, r.c, r.value, r.sigma, int(reading)};
}

Network network_of(const Survey& survey) {
    Network network{survey.points.size(), {}};
    for (std::size_t i = 0; i < survey.readings.size(); ++i)
        if (!survey.readings[i].left_out) network.seen.push_back(observation_of(survey, i));
    return network;
}

ReadingEquation equation_of(const Observation& seen, std::span<const Point> at) {
    switch (seen.quantity) {
        case Quantity::x:
            return {at[std::size_t(seen.a)].x_mm, 1, {seen.a, -1, -1}, {1.0, 0.0}};
        case Quantity::y:
            return {at[std::size_t(seen.a)].y_mm, 1, {seen.a, -1, -1}, {0.0, 1.0}};
        case Quantity::span:
            return span_equation(seen, at);
        case Quantity::angle:
            break;
    }
    return angle_equation(seen, at);
}

double misfit(const Observation& seen, double fitted) {
    const double difference = seen.value - fitted;
    return seen.quantity == Quantity::angle ? std::remainder(difference, 2.0 * std::numbers::pi) : difference;
}

double sum_of_squares(const Network& network, std::span<const Point> at) {
    double sum = 0.0;
    for (const Observation& seen : network.seen) {
        const double share = misfit(seen, equation_of(seen, at).fitted) / seen.sigma;
        sum += share * share;
    }
    return sum;
}

int free_motions(const Network& network) {
    if (network.points < 2) return 0;  // one point's place is its coordinates
    // Each x holds one shift; x at two places hold the turn as well, for places not level with each other.
    const std::size_t x = points_with(network, Quantity::x), y = points_with(network, Quantity::y);
    return 3 - int(std::min<std::size_t>(3, std::min<std::size_t>(x, 2) + std::min<std::size_t>(y, 2)));
}

bool has_coordinates(const Network& network) {
    return std::ranges::any_of(network.seen, [](const Observation& seen) {
        return seen.quantity == Quantity::x || seen.quantity == Quantity::y;
    });
}

bool has_angles(const Network& network) {
    return std::ranges::any_of(network.seen,
                               [](const Observation& seen) { return seen.quantity == Quantity::angle; });
}

bool is_spans_alone(const Network& network) { return !has_coordinates(network) && !has_angles(network); }

double extent_mm(const Network& network) {
    double extent = 0.0;
    for (const Quantity quantity : {Quantity::x, Quantity::y}) {
        double least = 1e300, most = -1e300;
        for (const Observation& seen : network.seen) {
            if (seen.quantity != quantity) continue;
            least = std::min(least, seen.value);
            most = std::max(most, seen.value);
        }
        extent = std::max(extent, most - least);
    }
    for (const Observation& seen : network.seen)
        if (seen.quantity == Quantity::span) extent = std::max(extent, seen.value);
    return extent;
}

bool runs_clockwise(std::span<const Point> at, const std::array<int, 3>& ids) {
    const Point a = at[std::size_t(ids[0])];
    return plan::cross(at[std::size_t(ids[1])] - a, at[std::size_t(ids[2])] - a) < 0.0;
}

}  // namespace fitup::calculations
