#include "plan/contour.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "plan/stroke.hpp"
#include "plan/vector.hpp"

namespace fitup::plan {

struct Contour::Path {
    std::vector<Edge> edges;
    std::vector<Stroke> strokes;
    std::vector<Box2> boxes;
    Box2 box;
};

namespace {

std::vector<Stroke> with_both_ends(std::span<const Edge> edges) {
    std::vector<Stroke> strokes;
    strokes.reserve(edges.size());
    for (std::size_t i = 0; i < edges.size(); ++i) {
        const Point to = edges[(i + 1) % edges.size()].from;
        const auto& arc = edges[i].arc;
        strokes.push_back(arc ? arc_stroke(edges[i].from, to, arc->centre, arc->turn)
                              : line_stroke(edges[i].from, to));
    }
    return strokes;
}

/// Side of a chord on which a point lies (positive: left). A point on the chord counts as moved by a trifle
/// to +X (and by far less to +Y), which is how the crossing count below sees it.
double side_of(Point from, Point to, Point point) {
    const double side = cross(to - from, point - from);
    if (side != 0.0) return side;
    return from.y_mm != to.y_mm ? from.y_mm - to.y_mm : to.x_mm - from.x_mm;
}

bool is_on(const Stroke& stroke, Point point) {
    if (stroke.is_line())
        return cross(stroke.to - stroke.from, point - stroke.from) == 0.0 &&
               dot(point - stroke.from, point - stroke.to) <= 0.0;
    const Point outward = point - stroke.centre;
    return dot(outward, outward) == stroke.radius_mm * stroke.radius_mm && spans(stroke, outward);
}

/// What a stroke adds to the winding number about a point: its chord's crossing of the ray to +X, and one
/// turn where the point lies between the chord and the arc.
int winding(const Stroke& stroke, Point point) {
    const double side = side_of(stroke.from, stroke.to, point);
    const bool start_below = stroke.from.y_mm <= point.y_mm;
    const bool end_below = stroke.to.y_mm <= point.y_mm;
    int turns = 0;
    if (start_below && !end_below && side > 0.0) turns = 1;
    if (!start_below && end_below && side < 0.0) turns = -1;
    if (stroke.is_line()) return turns;
    const Point outward = point - stroke.centre;
    if (dot(outward, outward) >= stroke.radius_mm * stroke.radius_mm) return turns;
    if (stroke.sweep_rad > 0.0) return side < 0.0 ? turns + 1 : turns;
    return side > 0.0 ? turns - 1 : turns;
}

}  // namespace

Contour::Contour(std::vector<Edge> edges) {
    auto path = std::make_shared<Path>();
    path->edges = std::move(edges);
    path->strokes = with_both_ends(path->edges);
    path->boxes.reserve(path->strokes.size());
    for (const Stroke& stroke : path->strokes) path->boxes.push_back(plan::box(stroke));
    path->box = path->boxes.empty() ? Box2{} : path->boxes.front();
    for (const Box2& each : path->boxes) path->box = joined(path->box, each);
    shape_ = std::shared_ptr<const Path>(std::move(path));
}

std::vector<Stroke> strokes_of(const Contour& contour) {
    if (const Circle* round = contour.circle()) return {circle_stroke(*round)};
    return {contour.strokes().begin(), contour.strokes().end()};
}

std::span<const Edge> Contour::edges() const { return circle() ? std::span<const Edge>() : path().edges; }
std::span<const Stroke> Contour::strokes() const {
    return circle() ? std::span<const Stroke>() : path().strokes;
}
std::span<const Box2> Contour::stroke_boxes() const {
    return circle() ? std::span<const Box2>() : path().boxes;
}

double Contour::area_mm2() const {
    if (const Circle* round = circle()) return std::numbers::pi * round->radius_mm * round->radius_mm;
    const Point about = path().strokes.front().from;
    double twice = 0.0;
    for (const Stroke& stroke : path().strokes) twice += twice_swept_area_mm2(stroke, about);
    return 0.5 * twice;
}

double Contour::perimeter_mm() const {
    if (const Circle* round = circle()) return 2.0 * std::numbers::pi * round->radius_mm;
    double sum = 0.0;
    for (const Stroke& stroke : path().strokes) sum += length_mm(stroke);
    return sum;
}

Box2 Contour::box() const {
    const Circle* round = circle();
    if (!round) return path().box;
    const Point reach{round->radius_mm, round->radius_mm};
    return {round->centre - reach, round->centre + reach};
}

bool Contour::contains(Point point) const {
    if (const Circle* round = circle()) {
        const Point outward = point - round->centre;
        return dot(outward, outward) < round->radius_mm * round->radius_mm;
    }
    if (distance_mm(path().box, point) > 0.0) return false;
    int turns = 0;
    for (const Stroke& stroke : path().strokes) {
        if (is_on(stroke, point)) return false;
        turns += winding(stroke, point);
    }
    return turns > 0;
}

double Contour::distance_to_mm(Point point) const {
    if (const Circle* round = circle()) return std::abs(distance_mm(point, round->centre) - round->radius_mm);
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < path().strokes.size(); ++i) {
        if (distance_mm(path().boxes[i], point) >= least) continue;
        least = std::min(least, distance_mm(point, nearest_point(path().strokes[i], point)));
    }
    return least;
}

double area_mm2(const Area& area) {
    double sum = area.outer.area_mm2();
    for (const Contour& island : area.islands) sum -= island.area_mm2();
    return sum;
}

}  // namespace fitup::plan
