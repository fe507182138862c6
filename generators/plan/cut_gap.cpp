#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>

#include "plan/cuts.hpp"
#include "plan/stroke.hpp"
#include "plan/vector.hpp"

// All axes are along Z, so the nearest points of two round bodies lie in the plane of their axes, and those
// of a round body and a prism in the plane through the axis and the prism's nearest vertical line: a problem
// of two convex polygons in (across, z).
namespace fitup::plan {
namespace {

using Quad = std::array<Point, 4>;

bool is_round(const Cut& cut) { return cut.area.outer.circle() != nullptr && cut.area.islands.empty(); }

Quad profile(const Cut& cut, double axis_mm) {
    const double radius_mm = cut.area.outer.circle()->radius_mm;
    const double low_mm = cut.cone ? cut.cone->radius_low_mm : radius_mm;
    const double high_mm = cut.cone ? cut.cone->radius_high_mm : radius_mm;
    return {Point{axis_mm - low_mm, cut.z_low_mm}, Point{axis_mm + low_mm, cut.z_low_mm},
            Point{axis_mm + high_mm, cut.z_high_mm}, Point{axis_mm - high_mm, cut.z_high_mm}};
}

bool inside(const Quad& quad, Point point) {
    for (std::size_t i = 0; i < 4; ++i) {
        if (cross(quad[(i + 1) % 4] - quad[i], point - quad[i]) < 0.0) return false;
    }
    return true;
}

Point nearest_on_segment(Point from, Point to, Point point) {
    const Point along = to - from;
    const double square = dot(along, along);
    if (square == 0.0) return from;
    return from + along * std::clamp(dot(point - from, along) / square, 0.0, 1.0);
}

/// Where the inner parts of two segments cross.
std::optional<Point> crossing(Point a, Point b, Point c, Point d) {
    const auto side = [](Point p, Point q, Point r) { return cross(q - p, r - p); };
    const double at_a = side(c, d, a);
    const double at_b = side(c, d, b);
    if (side(a, b, c) * side(a, b, d) >= 0.0 || at_a * at_b >= 0.0) return std::nullopt;
    return a + (b - a) * (at_a / (at_a - at_b));
}

Gap quad_gap(const Quad& first, const Quad& second) {
    for (const Point& corner : first) {
        if (inside(second, corner)) return {0.0, corner, corner};
    }
    for (const Point& corner : second) {
        if (inside(first, corner)) return {0.0, corner, corner};
    }
    Gap least{std::numeric_limits<double>::infinity(), {}, {}};
    const auto offer = [&least](Point a, Point b) {
        if (distance_mm(a, b) < least.distance_mm) least = {distance_mm(a, b), a, b};
    };
    for (std::size_t i = 0; i < 4; ++i) {
        for (std::size_t j = 0; j < 4; ++j) {
            if (const auto at = crossing(first[i], first[(i + 1) % 4], second[j], second[(j + 1) % 4]))
                return {0.0, *at, *at};
            offer(first[i], nearest_on_segment(second[j], second[(j + 1) % 4], first[i]));
            offer(nearest_on_segment(first[i], first[(i + 1) % 4], second[j]), second[j]);
        }
    }
    return least;
}

/// Back from (across, z) to space: `across` runs from `origin` along `along`.
Point3 in_space(Point flat, Point origin, Point along) {
    const Point plan_point = origin + along * flat.x_mm;
    return {plan_point.x_mm, plan_point.y_mm, flat.y_mm};
}

CutGap round_gap(const Cut& first, const Cut& second) {
    const Point from = first.area.outer.circle()->centre;
    const Point between = second.area.outer.circle()->centre - from;
    const double apart_mm = length(between);
    const Point along = apart_mm > 0.0 ? between * (1.0 / apart_mm) : Point{1.0, 0.0};
    const Gap flat = quad_gap(profile(first, 0.0), profile(second, apart_mm));
    return {flat.distance_mm, in_space(flat.on_first, from, along), in_space(flat.on_second, from, along)};
}

bool is_in(const Area& area, Point point) {
    return area.outer.contains(point) &&
           std::none_of(area.islands.begin(), area.islands.end(),
                        [point](const Contour& island) { return island.contains(point); });
}

Point nearest_on(const Contour& contour, Point point) {
    const auto strokes = strokes_of(contour);
    Point best = strokes.front().from;
    for (const Stroke& stroke : strokes) {
        const Point candidate = nearest_point(stroke, point);
        if (distance_mm(candidate, point) < distance_mm(best, point)) best = candidate;
    }
    return best;
}

Point nearest_in(const Area& area, Point point) {
    if (is_in(area, point)) return point;
    Point best = nearest_on(area.outer, point);
    for (const Contour& island : area.islands) {
        const Point candidate = nearest_on(island, point);
        if (distance_mm(candidate, point) < distance_mm(best, point)) best = candidate;
    }
    return best;
}

CutGap round_prism_gap(const Cut& round, const Cut& prism) {
    const Point axis = round.area.outer.circle()->centre;
    const Point nearest = nearest_in(prism.area, axis);
    const double across_mm = distance_mm(axis, nearest);
    const Point along = across_mm > 0.0 ? (nearest - axis) * (1.0 / across_mm) : Point{1.0, 0.0};
    const double far_mm = across_mm + 1.0;
    const Quad slab{Point{across_mm, prism.z_low_mm}, Point{far_mm, prism.z_low_mm},
                    Point{far_mm, prism.z_high_mm}, Point{across_mm, prism.z_high_mm}};
    const Gap flat = quad_gap(profile(round, 0.0), slab);
    return {flat.distance_mm, in_space(flat.on_first, axis, along), in_space(flat.on_second, axis, along)};
}

std::vector<const Contour*> edges_of(const Area& area) {
    std::vector<const Contour*> edges{&area.outer};
    for (const Contour& island : area.islands) edges.push_back(&island);
    return edges;
}

Gap area_gap(const Area& first, const Area& second) {
    const Point start = strokes_of(first.outer).front().from;
    const Point other = strokes_of(second.outer).front().from;
    if (is_in(second, start)) return {0.0, start, start};
    if (is_in(first, other)) return {0.0, other, other};
    Gap least{std::numeric_limits<double>::infinity(), {}, {}};
    for (const Contour* a : edges_of(first)) {
        for (const Contour* b : edges_of(second)) {
            const Gap here = gap(*a, *b);
            if (here.distance_mm < least.distance_mm) least = here;
        }
    }
    return least;
}

CutGap prism_gap(const Cut& first, const Cut& second) {
    const Gap flat = area_gap(first.area, second.area);
    const double low_mm = std::max(first.z_low_mm, second.z_low_mm);
    const double high_mm = std::min(first.z_high_mm, second.z_high_mm);
    const double apart_mm = std::max(0.0, low_mm - high_mm);
    const bool first_below = first.z_high_mm < second.z_low_mm;
    const double z_first = apart_mm == 0.0 ? low_mm : first_below ? first.z_high_mm : first.z_low_mm;
    const double z_second = apart_mm == 0.0 ? low_mm : first_below ? second.z_low_mm : second.z_high_mm;
    return {std::hypot(flat.distance_mm, apart_mm),
            {flat.on_first.x_mm, flat.on_first.y_mm, z_first},
            {flat.on_second.x_mm, flat.on_second.y_mm, z_second}};
}

}  // namespace

CutGap gap(const Cut& first, const Cut& second) {
    if (is_round(first) && is_round(second)) return round_gap(first, second);
    if (is_round(first)) return round_prism_gap(first, second);
    if (is_round(second)) {
        const CutGap turned = round_prism_gap(second, first);
        return {turned.distance_mm, turned.on_second, turned.on_first};
    }
    return prism_gap(first, second);
}

}  // namespace fitup::plan
