// Insets of a contour, and what a round cutter can reach: both by tracing offset curves.
#include <algorithm>
#include <cmath>

#include "base/error.hpp"
#include "plan/contour.hpp"
#include "plan/trace.hpp"
#include "plan/vector.hpp"

namespace fitup::plan {

namespace {

using Loops = std::vector<std::vector<Stroke>>;

/// A point of a raw curve may miss the distance it stands for by rounding alone.
constexpr double rounding_mm = 1e-9;

/// The stroke moved to its left by `by_mm` (right when negative); nothing where an arc vanishes.
std::optional<Stroke> shifted(const Stroke& stroke, double by_mm) {
    if (stroke.is_line()) {
        const Point aside = left_of(unit(stroke.to - stroke.from)) * by_mm;
        return line_stroke(stroke.from + aside, stroke.to + aside);
    }
    Stroke moved = stroke;
    moved.radius_mm += stroke.sweep_rad > 0.0 ? -by_mm : by_mm;
    if (moved.radius_mm < same_point_mm) return {};
    const double scale = moved.radius_mm / stroke.radius_mm;
    moved.from = stroke.centre + (stroke.from - stroke.centre) * scale;
    moved.to = stroke.centre + (stroke.to - stroke.centre) * scale;
    return moved;
}

/// The arc about a corner that joins two shifted neighbours which do not meet: on the outside of the turn.
std::optional<Stroke> corner_arc(const Stroke& before, const Stroke& after, double by_mm) {
    const Point arriving = direction_at(before, 1.0);
    const Point leaving = direction_at(after, 0.0);
    const double turn_rad = angle_between_rad(arriving, leaving);
    const bool opens = by_mm > 0.0 ? turn_rad < 0.0 : turn_rad > 0.0;
    const double reach_mm = std::abs(by_mm);
    if (!opens || std::abs(turn_rad) * reach_mm < same_point_mm) return {};
    const Point corner = after.from;
    return arc_stroke(corner + left_of(arriving) * by_mm, corner + left_of(leaving) * by_mm, corner,
                      by_mm > 0.0 ? Turn::clockwise : Turn::anticlockwise);
}

void add_shifted(std::vector<Stroke>& raw, const std::vector<Stroke>& loop, double by_mm) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
        if (const auto moved = shifted(loop[i], by_mm)) raw.push_back(*moved);
        if (loop.size() == 1) continue;
        if (const auto arc = corner_arc(loop[i], loop[(i + 1) % loop.size()], by_mm)) raw.push_back(*arc);
    }
}

bool clear_of(std::span<const Circle> circles, Point point) {
    return std::all_of(circles.begin(), circles.end(), [point](const Circle& circle) {
        const Point off = point - circle.centre;
        const double least_mm = circle.radius_mm - rounding_mm;
        return dot(off, off) >= least_mm * least_mm;
    });
}

std::vector<Circle> grown(std::span<const Circle> circles, double by_mm) {
    std::vector<Circle> result;
    for (const Circle& circle : circles) {
        const Circle larger{circle.centre, circle.radius_mm + by_mm};
        const bool doubled = std::any_of(result.begin(), result.end(), [&larger](const Circle& other) {
            return distance_mm(other.centre, larger.centre) < same_point_mm &&
                   std::abs(other.radius_mm - larger.radius_mm) < same_point_mm;
        });
        if (!doubled) result.push_back(larger);
    }
    return result;
}

/// Where a disc's centre may be: at least `by_mm` inside the contour and outside every circle.
std::optional<Loops> eroded(const Contour& contour, std::span<const Circle> circles, double by_mm) {
    const std::vector<Stroke> outline = strokes_of(contour);
    std::vector<Stroke> raw;
    add_shifted(raw, outline, by_mm);
    for (const Circle& circle : circles) raw.push_back(circle_stroke(circle, Turn::clockwise));
    return trace(raw, [&](Point point) {
        return clear_of(circles, point) &&
               (by_mm == 0.0
                    ? contour.distance_to_mm(point) <= rounding_mm || contour.contains(point)
                    : contour.contains(point) && contour.distance_to_mm(point) >= by_mm - rounding_mm);
    });
}

/// Strokes sorted so that the distance to the nearest one is found without looking at most of them.
double distance_to(const std::vector<Stroke>& strokes, const std::vector<Box2>& boxes, Point point,
                   double enough_mm) {
    double least_mm = enough_mm;
    for (std::size_t i = 0; i < strokes.size(); ++i) {
        if (distance_mm(boxes[i], point) >= least_mm) continue;
        least_mm = std::min(least_mm, distance_mm(nearest_point(strokes[i], point), point));
    }
    return least_mm;
}

std::optional<Loops> dilated(const Loops& loops, double by_mm) {
    std::vector<Stroke> raw;
    std::vector<Stroke> edge;
    std::vector<Box2> boxes;
    for (const auto& loop : loops) {
        add_shifted(raw, loop, -by_mm);
        for (const Stroke& stroke : loop) {
            edge.push_back(stroke);
            boxes.push_back(box(stroke));
        }
    }
    // A point of a raw curve is `by_mm` from the stroke it came from; it is on the boundary unless another
    // stroke is nearer.
    return trace(raw,
                 [&](Point point) { return distance_to(edge, boxes, point, by_mm) >= by_mm - rounding_mm; });
}

/// Curves nearer to each other than doubles can tell apart leave loops that do not close: the region is then
/// taken smaller by a few ten-millionths of a millimetre, well under the 1e-6 mm that positions are held to.
template <typename Work>
auto with_growth(const Work& work) {
    for (const double growth_mm : {0.0, 1.1e-7, 2.3e-7, 3.7e-7, 5.3e-7, 7.1e-7}) {
        if (auto result = work(growth_mm)) return *result;
    }
    throw KernelError(
        "an offset outline could not be closed; move one of the features that nearly touch by a hundredth of "
        "a millimetre");
}

}  // namespace

std::vector<Contour> inset(const Contour& contour, double by_mm) {
    if (const Circle* circle = contour.circle()) {
        if (circle->radius_mm - by_mm < same_point_mm) return {};
        return {Contour(Circle{circle->centre, circle->radius_mm - by_mm})};
    }
    if (by_mm == 0.0) return {contour};
    const Loops loops = with_growth([&](double growth_mm) { return eroded(contour, {}, by_mm + growth_mm); });
    std::vector<Contour> result;
    for (const auto& loop : loops) result.push_back(contour_of(loop));
    return result;
}

std::vector<Area> reachable(const Contour& inside, std::span<const Circle> keep_out,
                            double cutter_radius_mm) {
    const Loops loops = with_growth([&](double growth_mm) -> std::optional<Loops> {
        const std::vector<Circle> circles = grown(keep_out, cutter_radius_mm + growth_mm);
        auto free = eroded(inside, circles, cutter_radius_mm + growth_mm);
        if (!free || cutter_radius_mm == 0.0) return free;
        return dilated(*free, cutter_radius_mm);
    });
    return areas_of(loops);
}

}  // namespace fitup::plan
