#pragma once

#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "calculations/survey.hpp"
#include "plan/vector.hpp"

/// Surveys of known places: readings as a perfect hand would take them, and errors put in on purpose.
namespace fitup::calculations::testing {

using plan::Point;

inline Survey survey_of(std::size_t count) {
    Survey survey;
    for (std::size_t i = 0; i < count; ++i) survey.points.push_back({std::to_string(i + 1), int(10 + i)});
    return survey;
}

inline std::string id(int point) { return std::to_string(point + 1); }

inline Reading& add(Survey& survey, Reading reading, const std::string& list) {
    reading.key = list + "[" + std::to_string(survey.readings.size()) + "]";
    reading.line = 100 + int(survey.readings.size());
    survey.readings.push_back(reading);
    return survey.readings.back();
}

inline Reading& add_span(Survey& survey, int a, int b, double length_mm, double sigma_mm = 0.05) {
    Reading reading;
    reading.a = a, reading.b = b;
    reading.value = length_mm, reading.sigma = sigma_mm;
    reading.written = {length_mm};
    reading.name = "span " + id(a) + "-" + id(b);
    return add(survey, reading, "spans");
}

/// Outside to outside, or the gap, over or between pins.
inline Reading& add_pinned(Survey& survey, int a, int b, double length_mm, Taken taken, double pin_mm,
                           double sigma_mm = 0.05) {
    Reading& reading = add_span(survey, a, b, length_mm, sigma_mm);
    reading.taken = taken;
    reading.pins_mm = {pin_mm, pin_mm};
    reading.written = {length_mm + (taken == Taken::over ? pin_mm : -pin_mm)};
    reading.name += taken == Taken::over ? " (over)" : " (inside)";
    return reading;
}

inline void add_coordinate(Survey& survey, int a, Quantity quantity, double value_mm,
                           double sigma_mm = 0.05) {
    Reading reading;
    reading.quantity = quantity, reading.taken = Taken::at;
    reading.a = a;
    reading.value = value_mm, reading.sigma = sigma_mm;
    reading.written = {value_mm};
    reading.name = (quantity == Quantity::x ? "x of " : "y of ") + id(a);
    add(survey, reading, "points");
}

inline void add_at(Survey& survey, int a, Point at, double sigma_mm = 0.05) {
    add_coordinate(survey, a, Quantity::x, at.x_mm, sigma_mm);
    add_coordinate(survey, a, Quantity::y, at.y_mm, sigma_mm);
}

inline void add_angle(Survey& survey, int at, int from, int to, double angle_rad, double sigma_rad = 1e-3) {
    Reading reading;
    reading.quantity = Quantity::angle, reading.taken = Taken::angle;
    reading.a = at, reading.b = from, reading.c = to;
    reading.value = angle_rad, reading.sigma = sigma_rad;
    reading.written = {angle_rad};
    reading.name = "angle at " + id(at) + " from " + id(from) + " to " + id(to);
    add(survey, reading, "angles");
}

inline double angle_at(const std::vector<Point>& at, int a, int b, int c) {
    const Point here = at[std::size_t(a)];
    return plan::angle_between_rad(at[std::size_t(b)] - here, at[std::size_t(c)] - here);
}

inline double span(const std::vector<Point>& at, int a, int b) {
    return plan::distance_mm(at[std::size_t(a)], at[std::size_t(b)]);
}

/// Three points in clockwise order as seen, the widest triangle.
inline std::array<int, 3> clockwise_of(const std::vector<Point>& at) {
    std::array<int, 3> best{0, 1, 2};
    double least = 0.0;
    for (int a = 0; a < int(at.size()); ++a)
        for (int b = 0; b < int(at.size()); ++b)
            for (int c = 0; c < int(at.size()); ++c) {
                const double area = plan::cross(at[std::size_t(b)] - at[std::size_t(a)],
                                                at[std::size_t(c)] - at[std::size_t(a)]);
                if (area < least) best = {a, b, c}, least = area;
            }
    return best;
}

/// Eight studs of a made-up winch gearbox: no symmetry, X to the right and Y up.
inline std::vector<Point> winch_studs() {
    return {{88.21, 41.03}, {12.40, 96.75},   {-71.32, 66.18}, {-97.52, -8.41},
            {-52.9, -84.1}, {18.63, -101.34}, {84.77, -57.02}, {131.15, -6.6}};
}

/// Spans from each point to the next ones, `reach` of them.
inline Survey spans_survey(const std::vector<Point>& at, int reach) {
    Survey survey = survey_of(at.size());
    const int count = int(at.size());
    for (int i = 0; i < count; ++i)
        for (int k = 1; k <= reach; ++k)
            if (2 * k < count || (2 * k == count && i < k))
                add_span(survey, i, (i + k) % count, span(at, i, (i + k) % count));
    survey.clockwise = clockwise_of(at);
    return survey;
}

/// Coordinates of all points and some spans between them.
inline Survey mixed_survey(const std::vector<Point>& at, int reach) {
    Survey survey = spans_survey(at, reach);
    survey.clockwise.reset();
    for (int i = 0; i < int(at.size()); ++i) add_at(survey, i, at[std::size_t(i)]);
    return survey;
}

/// Places in the axes of spans alone: the first point at the origin, the second on +X.
inline std::vector<Point> as_spans_alone(const std::vector<Point>& at) {
    const Point along = at[1] - at[0];
    const double turn = std::atan2(along.y_mm, along.x_mm);
    std::vector<Point> moved;
    for (const Point& p : at) moved.push_back(plan::turned(p - at[0], -turn));
    return moved;
}

/// Each reading off by a normal error of its own sigma; the same numbers on every machine.
inline void disturb(Survey& survey, std::mt19937_64& engine) {
    const auto uniform = [&] { return (double(engine() >> 11) + 0.5) / 9007199254740992.0; };
    for (Reading& reading : survey.readings) {
        const double error =
            reading.sigma * std::sqrt(-2.0 * std::log(uniform())) * std::cos(6.283185307179586 * uniform());
        reading.value += error;
        for (double& written : reading.written) written += error;
    }
}

inline double farthest(const std::vector<Point>& a, const std::vector<Point>& b) {
    double most = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) most = std::max(most, plan::distance_mm(a[i], b[i]));
    return most;
}

}  // namespace fitup::calculations::testing
