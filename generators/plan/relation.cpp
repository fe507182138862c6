// How two contours lie to each other.
#include <algorithm>
#include <cmath>
#include <limits>

#include "plan/contour.hpp"
#include "plan/stroke.hpp"
#include "plan/vector.hpp"

namespace fitup::plan {

namespace {

/// A contour's strokes with their boxes, without an allocation for a circle.
struct Parts {
    explicit Parts(const Contour& contour) : strokes(contour.strokes()), boxes(contour.stroke_boxes()) {
        if (const Circle* round = contour.circle()) {
            whole = circle_stroke(*round);
            whole_box = contour.box();
            strokes = {&whole, 1};
            boxes = {&whole_box, 1};
        }
    }
    Parts(const Parts&) = delete;
    Parts& operator=(const Parts&) = delete;
    std::span<const Stroke> strokes;
    std::span<const Box2> boxes;

  private:
    Stroke whole;
    Box2 whole_box;
};

/// The nearest pair of points, looked for only below `below_mm`.
Gap nearest_pair(const Contour& first, const Contour& second, double below_mm) {
    Gap nearest{below_mm, {}, {}};
    const Parts a(first);
    const Parts b(second);
    const Box2 others = second.box();
    for (std::size_t i = 0; i < a.strokes.size(); ++i) {
        if (distance_mm(a.boxes[i], others) >= nearest.distance_mm) continue;
        for (std::size_t j = 0; j < b.strokes.size(); ++j) {
            if (distance_mm(a.boxes[i], b.boxes[j]) >= nearest.distance_mm) continue;
            const Gap here = gap(a.strokes[i], b.strokes[j]);
            if (here.distance_mm < nearest.distance_mm) nearest = here;
            if (nearest.distance_mm == 0.0) return nearest;
        }
    }
    return nearest;
}

bool near(Point a, Point b) { return distance_mm(a, b) < same_point_mm; }

/// Whether the ends and the middle of every stroke of `first` lie on `second`: of two curves with one box,
/// where both ways hold, that makes them one curve.
bool lies_on(const Contour& first, const Contour& second) {
    const Parts parts(first);
    return std::all_of(parts.strokes.begin(), parts.strokes.end(), [&](const Stroke& stroke) {
        return second.distance_to_mm(stroke.from) < same_point_mm &&
               second.distance_to_mm(point_at(stroke, 0.5)) < same_point_mm;
    });
}

bool same(const Contour& first, const Contour& second) {
    const Box2 a = first.box();
    const Box2 b = second.box();
    return near(a.least, b.least) && near(a.most, b.most) && lies_on(first, second) && lies_on(second, first);
}

Relation circle_relation(const Circle& first, const Circle& second) {
    const double apart_mm = distance_mm(first.centre, second.centre);
    const double larger_mm = second.radius_mm - first.radius_mm;
    if (apart_mm + std::abs(larger_mm) < same_point_mm) return Relation::same;
    if (apart_mm - first.radius_mm - second.radius_mm >= same_point_mm) return Relation::apart;
    if (larger_mm - apart_mm >= same_point_mm) return Relation::first_inside_second;
    if (-larger_mm - apart_mm >= same_point_mm) return Relation::second_inside_first;
    return Relation::crossing;
}

Point start_of(const Contour& contour) {
    const Circle* round = contour.circle();
    return round != nullptr ? circle_stroke(*round).from : contour.strokes().front().from;
}

}  // namespace

Gap gap(const Contour& first, const Contour& second) {
    return nearest_pair(first, second, std::numeric_limits<double>::infinity());
}

bool lies_within(const Contour& inner, const Contour& outer) {
    const Relation whole = relation(inner, outer);
    if (whole == Relation::same || whole == Relation::first_inside_second) return true;
    if (whole != Relation::crossing) return false;
    // Ten times what counts as touching: no more than a position may be off.
    const std::vector<Contour> shrunk = inset(inner, 10 * same_point_mm);
    return shrunk.size() == 1 && relation(shrunk.front(), outer) == Relation::first_inside_second;
}

Relation relation(const Contour& first, const Contour& second) {
    if (first.circle() != nullptr && second.circle() != nullptr)
        return circle_relation(*first.circle(), *second.circle());
    if (distance_mm(first.box(), second.box()) >= same_point_mm) return Relation::apart;
    if (same(first, second)) return Relation::same;
    if (nearest_pair(first, second, same_point_mm).distance_mm < same_point_mm) return Relation::crossing;
    if (second.contains(start_of(first))) return Relation::first_inside_second;
    return first.contains(start_of(second)) ? Relation::second_inside_first : Relation::apart;
}

}  // namespace fitup::plan
