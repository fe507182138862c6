#include "plan/contour.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "plan/stroke.hpp"
#include "plan/vector.hpp"

namespace fitup::plan {

namespace {

/// How often a ray from `point` to +X crosses a stroke, counted with its sense (up +1, down -1); half-open in
/// y so that a shared end counts once.
int line_windings(const Stroke& line, Point point) {
    const bool starts_above = line.from.y_mm > point.y_mm;
    const bool ends_above = line.to.y_mm > point.y_mm;
    if (starts_above == ends_above) return 0;
    const double side = cross(line.to - line.from, point - line.from);
    if (ends_above) return side > 0.0 ? 1 : 0;
    return side < 0.0 ? -1 : 0;
}

/// An arc cut at its highest and lowest points, so that each piece goes up or down alone.
int arc_windings(const Stroke& arc, Point point) {
    const double start_rad = std::atan2(arc.from.y_mm - arc.centre.y_mm, arc.from.x_mm - arc.centre.x_mm);
    std::vector<double> shares{0.0, 1.0};
    for (int quarter = -5; quarter <= 5; quarter += 2) {
        const double share = (quarter * std::numbers::pi / 2.0 - start_rad) / arc.sweep_rad;
        if (share > 1e-12 && share < 1.0 - 1e-12) shares.push_back(share);
    }
    std::sort(shares.begin(), shares.end());
    const Point off = point - arc.centre;
    const bool in_circle = dot(off, off) < arc.radius_mm * arc.radius_mm;
    int windings = 0;
    for (std::size_t i = 0; i + 1 < shares.size(); ++i) {
        const Stroke piece = part_of(arc, shares[i], shares[i + 1]);
        const bool starts_above = piece.from.y_mm > point.y_mm;
        const bool ends_above = piece.to.y_mm > point.y_mm;
        if (starts_above == ends_above) continue;
        const bool bulges_right = point_at(arc, 0.5 * (shares[i] + shares[i + 1])).x_mm > arc.centre.x_mm;
        const bool is_right = bulges_right ? (in_circle || off.x_mm < 0.0) : (!in_circle && off.x_mm < 0.0);
        if (is_right) windings += ends_above ? 1 : -1;
    }
    return windings;
}

double twice_area(std::span<const Stroke> strokes) {
    double twice_mm2 = 0.0;
    for (const Stroke& stroke : strokes) twice_mm2 += twice_swept_area_mm2(stroke, strokes.front().from);
    return twice_mm2;
}

bool same_circle(const Circle& a, const Circle& b) {
    return distance_mm(a.centre, b.centre) < same_point_mm &&
           std::abs(a.radius_mm - b.radius_mm) < same_point_mm;
}

bool same_edge(const Edge& a, const Edge& b) {
    if (distance_mm(a.from, b.from) >= same_point_mm || a.arc.has_value() != b.arc.has_value()) return false;
    return !a.arc ||
           (a.arc->turn == b.arc->turn && distance_mm(a.arc->centre, b.arc->centre) < same_point_mm);
}

bool same_path(std::span<const Edge> a, std::span<const Edge> b) {
    if (a.size() != b.size()) return false;
    for (std::size_t shift = 0; shift < b.size(); ++shift) {
        bool equal = true;
        for (std::size_t i = 0; equal && i < a.size(); ++i)
            equal = same_edge(a[i], b[(i + shift) % b.size()]);
        if (equal) return true;
    }
    return false;
}

bool same(const Contour& a, const Contour& b) {
    if ((a.circle() != nullptr) != (b.circle() != nullptr)) return false;
    return a.circle() != nullptr ? same_circle(*a.circle(), *b.circle()) : same_path(a.edges(), b.edges());
}

Relation circle_relation(const Circle& a, const Circle& b) {
    if (same_circle(a, b)) return Relation::same;
    const double apart_mm = distance_mm(a.centre, b.centre);
    if (apart_mm >= a.radius_mm + b.radius_mm + same_point_mm) return Relation::apart;
    if (apart_mm + a.radius_mm + same_point_mm <= b.radius_mm) return Relation::first_inside_second;
    if (apart_mm + b.radius_mm + same_point_mm <= a.radius_mm) return Relation::second_inside_first;
    return Relation::crossing;
}

Gap circle_gap(const Circle& a, const Circle& b) { return gap(circle_stroke(a), circle_stroke(b)); }

}  // namespace

std::vector<Stroke> strokes_of(const Contour& contour) {
    if (const Circle* circle = contour.circle()) return {circle_stroke(*circle)};
    std::vector<Stroke> strokes;
    const auto edges = contour.edges();
    for (std::size_t i = 0; i < edges.size(); ++i) {
        const Point to = edges[(i + 1) % edges.size()].from;
        strokes.push_back(edges[i].arc
                              ? arc_stroke(edges[i].from, to, edges[i].arc->centre, edges[i].arc->turn)
                              : line_stroke(edges[i].from, to));
    }
    return strokes;
}

std::span<const Edge> Contour::edges() const {
    const auto* path = std::get_if<std::vector<Edge>>(&shape_);
    return path != nullptr ? std::span<const Edge>(*path) : std::span<const Edge>();
}

double Contour::area_mm2() const {
    if (circle() != nullptr) return std::numbers::pi * circle()->radius_mm * circle()->radius_mm;
    return 0.5 * twice_area(strokes_of(*this));
}

double Contour::perimeter_mm() const {
    if (circle() != nullptr) return 2.0 * std::numbers::pi * circle()->radius_mm;
    double sum_mm = 0.0;
    for (const Stroke& stroke : strokes_of(*this)) sum_mm += length_mm(stroke);
    return sum_mm;
}

Box2 Contour::box() const {
    if (const Circle* round = circle()) {
        const double r = round->radius_mm;
        return {round->centre - Point{r, r}, round->centre + Point{r, r}};
    }
    const auto strokes = strokes_of(*this);
    Box2 bounds = plan::box(strokes.front());
    for (const Stroke& stroke : strokes) bounds = joined(bounds, plan::box(stroke));
    return bounds;
}

bool Contour::contains(Point point) const {
    if (const Circle* round = circle()) return distance_mm(round->centre, point) < round->radius_mm;
    int windings = 0;
    for (const Stroke& stroke : strokes_of(*this))
        windings += stroke.is_line() ? line_windings(stroke, point) : arc_windings(stroke, point);
    return windings != 0;
}

double Contour::distance_to_mm(Point point) const {
    if (const Circle* round = circle()) return std::abs(distance_mm(round->centre, point) - round->radius_mm);
    double least_mm = std::numeric_limits<double>::infinity();
    for (const Stroke& stroke : strokes_of(*this))
        least_mm = std::min(least_mm, distance_mm(nearest_point(stroke, point), point));
    return least_mm;
}

Gap gap(const Contour& first, const Contour& second) {
    if (first.circle() != nullptr && second.circle() != nullptr)
        return circle_gap(*first.circle(), *second.circle());
    Gap least{std::numeric_limits<double>::infinity(), {}, {}};
    const auto others = strokes_of(second);
    for (const Stroke& stroke : strokes_of(first)) {
        const Box2 bounds = box(stroke);
        for (const Stroke& other : others) {
            if (distance_mm(bounds, box(other)) >= least.distance_mm) continue;
            const Gap here = gap(stroke, other);
            if (here.distance_mm < least.distance_mm) least = here;
        }
    }
    return least;
}

Relation relation(const Contour& first, const Contour& second) {
    if (first.circle() != nullptr && second.circle() != nullptr)
        return circle_relation(*first.circle(), *second.circle());
    if (distance_mm(first.box(), second.box()) >= same_point_mm) return Relation::apart;
    if (same(first, second)) return Relation::same;
    const Gap between = gap(first, second);
    if (between.distance_mm < same_point_mm) return Relation::crossing;
    if (second.contains(between.on_first)) return Relation::first_inside_second;
    if (first.contains(between.on_second)) return Relation::second_inside_first;
    return Relation::apart;
}

double area_mm2(const Area& area) {
    double sum_mm2 = area.outer.area_mm2();
    for (const Contour& island : area.islands) sum_mm2 -= island.area_mm2();
    return sum_mm2;
}

}  // namespace fitup::plan
