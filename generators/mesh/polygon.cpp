#include "mesh/polygon.hpp"

#include <algorithm>
#include <cmath>

namespace fitup::mesh {

namespace {

using plan::Point;

/// An octagon's: coarser, and a round hole can't be told from a square one.
constexpr double widest_step_deg = 45.0;
/// Far beyond any use; keeps counts within an int.
constexpr double most_sides = 1e8;
/// A quarter turn nearer than this to an arc's end is not split off: at radius 200 mm the box is then out
/// by 1.1e-8 mm.
constexpr double least_piece_deg = 6e-4;
/// Rounding must not turn 90 / 10 into ten pieces.
constexpr double rounding = 1e-9;

/// The widest turn of one side that keeps both limits. The sagitta of a chord over `a` is r (1 - cos(a / 2)),
/// which is 2 r sin^2(a / 4): the second form keeps its digits for small angles.
double step_deg(double radius_mm, const Fineness& fineness) {
    const double sine = std::sqrt(std::clamp(fineness.chord_mm / (2.0 * radius_mm), 0.0, 1.0));
    const double by_chord = Angle::from_radians(4.0 * std::asin(sine)).degrees();
    const double step = std::min({fineness.angle.degrees(), by_chord, widest_step_deg});
    return std::max(step, 360.0 / most_sides);
}

double pieces_in(double sweep_deg, double step) {
    return std::max(1.0, std::ceil(sweep_deg / step - rounding));
}

Point on_circle(Point centre, double radius_mm, double degrees) {
    const Angle angle = Angle::from_degrees(degrees);
    return {centre.x_mm + radius_mm * angle.cos(), centre.y_mm + radius_mm * angle.sin()};
}

/// An arc as its angles where it is split: start, the quarter turns in between, end. Falling for a clockwise
/// arc.
struct Span {
    double radius_mm = 0.0;
    std::vector<double> stops_deg;
};

double degrees_of(Point centre, Point point) {
    return Angle::from_radians(std::atan2(point.y_mm - centre.y_mm, point.x_mm - centre.x_mm)).degrees();
}

Span span_of(const plan::Arc& arc, Point from, Point to) {
    const double sign = arc.turn == plan::Turn::anticlockwise ? 1.0 : -1.0;
    const double start = degrees_of(arc.centre, from);
    double sweep = std::fmod(sign * (degrees_of(arc.centre, to) - start) + 720.0, 360.0);
    if (sweep == 0.0) sweep = 360.0;
    Span span{std::hypot(from.x_mm - arc.centre.x_mm, from.y_mm - arc.centre.y_mm), {start}};
    const double first = sign > 0 ? std::floor(start / 90.0) + 1.0 : std::ceil(start / 90.0) - 1.0;
    for (int i = 0; i < 5; ++i) {
        const double quarter = 90.0 * (first + sign * i);
        const double gone = sign * (quarter - start);
        if (gone > least_piece_deg && gone < sweep - least_piece_deg) span.stops_deg.push_back(quarter);
    }
    span.stops_deg.push_back(start + sign * sweep);
    return span;
}

/// The points of an arc without its end.
void append_arc(std::vector<Point>& points, const plan::Arc& arc, Point from, Point to,
                const Fineness& fineness) {
    const Span span = span_of(arc, from, to);
    const double step = step_deg(span.radius_mm, fineness);
    for (std::size_t i = 0; i + 1 < span.stops_deg.size(); ++i) {
        const double start = span.stops_deg[i];
        const double sweep = span.stops_deg[i + 1] - start;
        const int pieces = static_cast<int>(pieces_in(std::abs(sweep), step));
        for (int k = 0; k < pieces; ++k) {
            const bool at_start = i == 0 && k == 0;
            points.push_back(at_start ? from
                                      : on_circle(arc.centre, span.radius_mm, start + sweep * k / pieces));
        }
    }
}

std::vector<Point> polygon_of(const plan::Circle& circle, const Fineness& fineness) {
    const int sides = sides_of_circle(circle.radius_mm, fineness);
    std::vector<Point> points(static_cast<std::size_t>(sides));
    for (int i = 0; i < sides; ++i) {
        points[static_cast<std::size_t>(i)] = on_circle(circle.centre, circle.radius_mm, 360.0 * i / sides);
    }
    return points;
}

}  // namespace

int sides_of_circle(double radius_mm, const Fineness& fineness) {
    return 4 * static_cast<int>(pieces_in(90.0, step_deg(radius_mm, fineness)));
}

std::vector<Point> polygon_of(const plan::Contour& contour, const Fineness& fineness) {
    if (contour.circle() != nullptr) return polygon_of(*contour.circle(), fineness);
    std::vector<Point> points;
    const auto edges = contour.edges();
    for (std::size_t i = 0; i < edges.size(); ++i) {
        const Point to = edges[(i + 1) % edges.size()].from;
        if (edges[i].arc)
            append_arc(points, *edges[i].arc, edges[i].from, to, fineness);
        else
            points.push_back(edges[i].from);
    }
    return points;
}

double count_of_points(const plan::Contour& contour, const Fineness& fineness) {
    if (contour.circle() != nullptr) return sides_of_circle(contour.circle()->radius_mm, fineness);
    double count = 0.0;
    const auto edges = contour.edges();
    for (std::size_t i = 0; i < edges.size(); ++i) {
        if (!edges[i].arc) {
            count += 1.0;
            continue;
        }
        const Span span = span_of(*edges[i].arc, edges[i].from, edges[(i + 1) % edges.size()].from);
        const double step = step_deg(span.radius_mm, fineness);
        for (std::size_t k = 0; k + 1 < span.stops_deg.size(); ++k) {
            count += pieces_in(std::abs(span.stops_deg[k + 1] - span.stops_deg[k]), step);
        }
    }
    return count;
}

}  // namespace fitup::mesh
