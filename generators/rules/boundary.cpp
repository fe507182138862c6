#include "rules/boundary.hpp"

#include <cmath>
#include <limits>

#include "plan/vector.hpp"

namespace fitup::rules {

using plan::Point;
using plan::Stroke;

struct Boundary::Best {
    double distance_mm = std::numeric_limits<double>::infinity();
    std::size_t stroke = 0;
    Point nearest;
};

Boundary::Boundary(const plan::Contour& contour) {
    add_loop(contour, false);
    build();
}

Boundary::Boundary(const plan::Area& area) {
    add_loop(area.outer, false);
    for (const plan::Contour& island : area.islands) add_loop(island, true);
    build();
}

/// Islands run the other way round, so that the region is on the left of every stroke.
void Boundary::add_loop(const plan::Contour& contour, bool is_island) {
    std::vector<Stroke> loop = plan::strokes_of(contour);
    const std::size_t start = strokes_.size();
    const std::size_t count = loop.size();
    for (std::size_t i = 0; i < count; ++i) {
        strokes_.push_back(is_island ? plan::reversed(loop[count - 1 - i]) : loop[i]);
        before_.push_back(start + (i + count - 1) % count);
        after_.push_back(start + (i + 1) % count);
    }
}

void Boundary::build() {
    nodes_.reserve(2 * strokes_.size());
    build(0, strokes_.size());
}

std::size_t Boundary::build(std::size_t first, std::size_t count) {
    const std::size_t here = nodes_.size();
    nodes_.push_back({plan::box(strokes_[first]), first, count, 0});
    for (std::size_t i = first + 1; i < first + count; ++i)
        nodes_[here].box = plan::joined(nodes_[here].box, plan::box(strokes_[i]));
    constexpr std::size_t leaf_size = 4;
    if (count <= leaf_size) return here;
    build(first, count / 2);
    const std::size_t right = build(first + count / 2, count - count / 2);
    nodes_[here].right = right;
    return here;
}

void Boundary::search(std::size_t node, Point point, Best& best) const {
    const Node& here = nodes_[node];
    if (here.right == 0) {
        for (std::size_t i = here.first; i < here.first + here.count; ++i) {
            const Point nearest = plan::nearest_point(strokes_[i], point);
            const double distance_mm = plan::distance_mm(nearest, point);
            if (distance_mm < best.distance_mm) best = {distance_mm, i, nearest};
        }
        return;
    }
    std::size_t halves[] = {node + 1, here.right};
    double apart_mm[] = {plan::distance_mm(nodes_[halves[0]].box, point),
                         plan::distance_mm(nodes_[halves[1]].box, point)};
    const int nearer = apart_mm[1] < apart_mm[0] ? 1 : 0;
    for (const int half : {nearer, 1 - nearer}) {
        if (apart_mm[half] < best.distance_mm) search(halves[half], point, best);
    }
}

/// At a corner the two strokes that meet there decide together: the point is on the left when it is on the
/// left of the sum of their directions (the corner's own direction), which is exact for the nearest point of
/// a closed curve.
bool Boundary::is_left_of(std::size_t index, Point nearest, Point point) const {
    const Stroke& stroke = strokes_[index];
    const bool is_circle = after_[index] == index;
    Point along = plan::direction_at(stroke, plan::share_of(stroke, nearest));
    if (!is_circle && nearest == stroke.from)
        along = along + plan::direction_at(strokes_[before_[index]], 1.0);
    if (!is_circle && nearest == stroke.to) along = along + plan::direction_at(strokes_[after_[index]], 0.0);
    return plan::cross(along, point - nearest) >= 0.0;
}

Boundary::Answer Boundary::ask(Point point) const {
    Best best;
    search(0, point, best);
    return {is_left_of(best.stroke, best.nearest, point) ? best.distance_mm : -best.distance_mm,
            best.nearest};
}

}  // namespace fitup::rules
