#include "plan/cuts.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "plan/stroke.hpp"
#include "plan/vector.hpp"

namespace fitup::plan {

namespace {

Contour shaft_contour(const Hole& hole) {
    if (!hole.slot_length_mm) return Contour(Circle{hole.at_mm, hole.diameter_mm / 2.0});
    const double half_mm = (*hole.slot_length_mm - hole.diameter_mm) / 2.0;
    const Point along{hole.slot_direction.cos() * half_mm, hole.slot_direction.sin() * half_mm};
    return slot(hole.at_mm - along, hole.at_mm + along, hole.diameter_mm);
}

Contour round_contour(const Hole& hole, double diameter_mm) {
    return Contour(Circle{hole.at_mm, diameter_mm / 2.0});
}

/// A prism from one face down to a depth.
Cut from_face(Cut cut, Side side, double depth_mm, double thickness_mm) {
    cut.z_low_mm = side == Side::A ? 0.0 : thickness_mm - depth_mm;
    cut.z_high_mm = side == Side::A ? depth_mm : thickness_mm;
    cut.opens_a = side == Side::A;
    cut.opens_b = side == Side::B;
    return cut;
}

/// A cone whose wide end lies `start_mm` below a face and whose narrow end is `height_mm` further in.
Cut cone_from_face(Cut cut, Side side, double start_mm, double height_mm, double wide_mm, double narrow_mm,
                   double thickness_mm) {
    const bool from_a = side == Side::A;
    cut.z_low_mm = from_a ? start_mm : thickness_mm - start_mm - height_mm;
    cut.z_high_mm = from_a ? start_mm + height_mm : thickness_mm - start_mm;
    cut.cone = from_a ? Cut::Cone{wide_mm, narrow_mm} : Cut::Cone{narrow_mm, wide_mm};
    return cut;
}

void add_hole(std::vector<Cut>& cuts, const Plan& plan, std::size_t index) {
    const Hole& hole = plan.holes[index];
    const double thickness_mm = plan.body.thickness_mm;
    const CutRole role = hole.kind == HoleKind::bore ? CutRole::bore : CutRole::hole;
    const double radius_mm = hole.diameter_mm / 2.0;
    Cut shaft{hole.id, role, index, {shaft_contour(hole), {}}, 0.0, thickness_mm, true, true, {}};
    cuts.push_back(hole.through ? shaft : from_face(shaft, hole.from, hole.depth_mm, thickness_mm));
    if (!hole.through && hole.point_angle && !hole.slot_length_mm) {
        const double height_mm = radius_mm / (*hole.point_angle * 0.5).tan();
        cuts.push_back(cone_from_face({hole.id, CutRole::point, index, shaft.area, 0, 0, false, false, {}},
                                      hole.from, hole.depth_mm, height_mm, radius_mm, 0.0, thickness_mm));
    }
    if (hole.recess) {
        const Area area{round_contour(hole, hole.recess->diameter_mm), {}};
        cuts.push_back(from_face({hole.id, CutRole::recess, index, area, 0, 0, false, false, {}},
                                 hole.recess->side, hole.recess->depth_mm, thickness_mm));
    }
    if (hole.countersink) {
        const double wide_mm = hole.countersink->diameter_mm / 2.0;
        const double height_mm = (wide_mm - radius_mm) / (hole.countersink->angle * 0.5).tan();
        const bool side_a = hole.countersink->side == Side::A;
        cuts.push_back(cone_from_face({hole.id,
                                       CutRole::countersink,
                                       index,
                                       {round_contour(hole, 2.0 * wide_mm), {}},
                                       0,
                                       0,
                                       side_a,
                                       !side_a,
                                       {}},
                                      hole.countersink->side, 0.0, height_mm, wide_mm, radius_mm,
                                      thickness_mm));
    }
}

void add_pocket(std::vector<Cut>& cuts, const Plan& plan, std::size_t index) {
    const Pocket& pocket = plan.pockets[index];
    const double thickness_mm = plan.body.thickness_mm;
    for (const Area& area : pocket.areas) {
        const Cut cut{pocket.id, CutRole::pocket, index, area, 0.0, thickness_mm, true, true, {}};
        cuts.push_back(pocket.through ? cut : from_face(cut, pocket.side, pocket.depth_mm, thickness_mm));
    }
}

// Distances. All axes are along Z, so the nearest points of two round bodies lie in the plane of their axes,
// and those of a round body and a prism in the plane through the axis and the prism's nearest vertical line:
// a problem of two convex polygons in (across, z).

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

bool segments_cross(Point a, Point b, Point c, Point d) {
    const auto side = [](Point p, Point q, Point r) { return cross(q - p, r - p); };
    return side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0;
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
            if (segments_cross(first[i], first[(i + 1) % 4], second[j], second[(j + 1) % 4]))
                return {0.0, first[i], first[i]};
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

std::vector<Cut> cuts(const Plan& plan) {
    std::vector<Cut> all;
    for (std::size_t i = 0; i < plan.holes.size(); ++i) add_hole(all, plan, i);
    for (std::size_t i = 0; i < plan.pockets.size(); ++i) add_pocket(all, plan, i);
    return all;
}

double volume_mm3(const Cut& cut) {
    const double height_mm = cut.z_high_mm - cut.z_low_mm;
    if (!cut.cone) return area_mm2(cut.area) * height_mm;
    const double a = cut.cone->radius_low_mm;
    const double b = cut.cone->radius_high_mm;
    return std::numbers::pi / 3.0 * height_mm * (a * a + a * b + b * b);
}

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
