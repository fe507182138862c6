// Polygons with rounded corners, and what makes one fit to be a contour.
#include <algorithm>
#include <cmath>

#include "plan/contour.hpp"
#include "plan/near_pairs.hpp"
#include "plan/vector.hpp"

namespace fitup::plan {

namespace {

/// Sides nearer to straight back than this (sine) lie on each other.
constexpr double least_spike_sine = 1e-12;

/// What stands at a corner: its rounding from `in` to `out`, or one point.
struct Corner {
    Point in;
    Point out;
    std::optional<Arc> arc;
};

Corner round_corner(Point before, Point at, Point after, double radius_mm) {
    const Point arriving = unit(at - before);
    const Point leaving = unit(after - at);
    const double turn_rad = angle_between_rad(arriving, leaving);
    const double tangent_mm = radius_mm * std::tan(std::abs(turn_rad) / 2.0);
    if (2.0 * tangent_mm < same_point_mm) return {at, at, {}};
    const Point in = at - arriving * tangent_mm;
    const Point to_centre = left_of(arriving) * (turn_rad > 0.0 ? radius_mm : -radius_mm);
    const Turn turn = turn_rad > 0.0 ? Turn::anticlockwise : Turn::clockwise;
    return {in, at + leaving * tangent_mm, Arc{in + to_centre, turn}};
}

bool turns_straight_back(Point arriving, Point leaving) {
    return dot(arriving, leaving) < 0.0 &&
           std::abs(cross(arriving, leaving)) <= least_spike_sine * length(arriving) * length(leaving);
}

/// A side too short to be one, or that runs back on the one before.
bool has_bad_side(std::span<const Point> points) {
    const std::size_t count = points.size();
    for (std::size_t i = 0; i < count; ++i) {
        const Point arriving = points[i] - points[(i + count - 1) % count];
        const Point leaving = points[(i + 1) % count] - points[i];
        // Written so that a coordinate that is no number is found too.
        if (!(length(leaving) >= same_point_mm && std::isfinite(length(leaving)))) return true;
        if (turns_straight_back(arriving, leaving)) return true;
    }
    return false;
}

double signed_area_mm2(std::span<const Point> points) {
    double twice_mm2 = 0.0;
    for (std::size_t i = 0; i < points.size(); ++i)
        twice_mm2 += cross(points[i] - points[0], points[(i + 1) % points.size()] - points[0]);
    return 0.5 * twice_mm2;
}

/// Nothing where a side is too short for its two roundings.
std::optional<std::vector<Edge>> rounded(std::span<const Point> points, double radius_mm) {
    const std::size_t count = points.size();
    std::vector<Corner> corners;
    for (std::size_t i = 0; i < count; ++i)
        corners.push_back(
            round_corner(points[(i + count - 1) % count], points[i], points[(i + 1) % count], radius_mm));
    std::vector<Edge> edges;
    for (std::size_t i = 0; i < count; ++i) {
        const Corner& next = corners[(i + 1) % count];
        const Point along = unit(points[(i + 1) % count] - points[i]);
        const double straight_mm = dot(next.in - corners[i].out, along);
        if (!(straight_mm > -same_point_mm)) return {};
        if (corners[i].arc) edges.push_back({corners[i].in, corners[i].arc});
        if (straight_mm >= same_point_mm) edges.push_back({corners[i].out, {}});
    }
    return edges;
}

std::vector<Edge> sharp(std::span<const Point> points) {
    std::vector<Edge> edges;
    for (const Point& point : points) edges.push_back({point, {}});
    return edges;
}

}  // namespace

bool touches_itself(const Contour& contour) {
    const auto strokes = contour.strokes();
    return any_near_pair(contour.stroke_boxes(), same_point_mm, [&](std::size_t i, std::size_t j) {
        const bool neighbours = j == i + 1 || (i == 0 && j + 1 == strokes.size());
        return !neighbours && gap(strokes[i], strokes[j]).distance_mm < same_point_mm;
    });
}

std::optional<Contour> polygon(std::span<const Point> points, double corner_radius_mm) {
    if (points.size() < 3 || !(corner_radius_mm >= 0.0) || has_bad_side(points)) return {};
    std::vector<Point> anticlockwise(points.begin(), points.end());
    if (signed_area_mm2(points) < 0.0) std::reverse(anticlockwise.begin(), anticlockwise.end());
    if (touches_itself(Contour(sharp(anticlockwise)))) return {};
    auto edges = rounded(anticlockwise, corner_radius_mm);
    if (!edges) return {};
    Contour result(std::move(*edges));
    // A rounding can cut into a far part of the polygon that reaches into the corner.
    if (corner_radius_mm > 0.0 && touches_itself(result)) return {};
    return result;
}

}  // namespace fitup::plan
