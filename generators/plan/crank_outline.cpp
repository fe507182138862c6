// The outline of a crank: of each arm the belt round hub and eye, all joined, and the inner corners rounded.
#include <algorithm>
#include <array>
#include <cmath>

#include "plan/contour.hpp"
#include "plan/trace.hpp"
#include "plan/vector.hpp"

namespace fitup::plan {

namespace {

/// Deeper in another arm's belt than this, a point is no longer on the outline; far over rounding, far under
/// what positions are held to.
constexpr double inside_mm = 1e-8;

Point on_circle(const Circle& circle, double angle_rad) {
    return circle.centre + Point{std::cos(angle_rad), std::sin(angle_rad)} * circle.radius_mm;
}

/// Where the belt leaves the hub for the eye and comes back, as directions from the hub's centre.
struct Tangents {
    double right_rad = 0.0;
    double left_rad = 0.0;
};

std::optional<Tangents> tangents(const Circle& hub, const Circle& eye) {
    const Point between = eye.centre - hub.centre;
    const double share = (hub.radius_mm - eye.radius_mm) / length(between);
    if (!(std::abs(share) < 1.0)) return {};
    const double along_rad = std::atan2(between.y_mm, between.x_mm);
    const double aside_rad = std::acos(share);
    return Tangents{along_rad - aside_rad, along_rad + aside_rad};
}

void add_arm(const Circle& hub, const Circle& eye, const Tangents& at, std::vector<Stroke>& raw) {
    const Point eye_right = on_circle(eye, at.right_rad);
    const Point eye_left = on_circle(eye, at.left_rad);
    raw.push_back(line_stroke(on_circle(hub, at.right_rad), eye_right));
    raw.push_back(arc_stroke(eye_right, eye_left, eye.centre, Turn::anticlockwise));
    raw.push_back(line_stroke(eye_left, on_circle(hub, at.left_rad)));
}

bool is_outside(Point point, const std::vector<Contour>& belts) {
    return std::none_of(belts.begin(), belts.end(), [&](const Contour& belt) {
        return belt.contains(point) && belt.distance_to_mm(point) > inside_mm;
    });
}

/// The hub's arcs between two belts. A belt touches the hub and never crosses it, so that an arc is on the
/// outline whole or not at all; where a line touches an arc, its crossing is too ill placed to part it there.
void add_hub(const Circle& hub, std::vector<Point> touches, const std::vector<Contour>& belts,
             std::vector<Stroke>& raw) {
    std::sort(touches.begin(), touches.end(), [&](Point a, Point b) {
        const Point from_a = a - hub.centre;
        const Point from_b = b - hub.centre;
        return std::atan2(from_a.y_mm, from_a.x_mm) < std::atan2(from_b.y_mm, from_b.x_mm);
    });
    for (std::size_t i = 0; i < touches.size(); ++i) {
        const Point next = touches[(i + 1) % touches.size()];
        if (distance_mm(touches[i], next) < same_point_mm) continue;
        const Stroke arc = arc_stroke(touches[i], next, hub.centre, Turn::anticlockwise);
        if (is_outside(point_at(arc, 0.5), belts)) raw.push_back(arc);
    }
}

/// All belts joined, inner corners sharp.
std::optional<Contour> joined_belts(const Circle& hub, std::span<const Circle> eyes) {
    std::vector<Stroke> raw;
    std::vector<Point> touches;
    std::vector<Contour> belts;
    for (const Circle& eye : eyes) {
        const auto at = tangents(hub, eye);
        if (!at) return {};
        add_arm(hub, eye, *at, raw);
        touches.push_back(on_circle(hub, at->right_rad));
        touches.push_back(on_circle(hub, at->left_rad));
        const std::array<Circle, 2> ends{hub, eye};
        belts.push_back(hull(ends));
    }
    add_hub(hub, touches, belts, raw);
    const auto loops = trace(raw, [&](Point point) { return is_outside(point, belts); });
    if (!loops || loops->size() != 1 || signed_area_mm2(loops->front()) <= 0.0) return {};
    return contour_of(loops->front());
}

}  // namespace

std::optional<Contour> crank_outline(const Circle& hub, std::span<const Circle> eyes,
                                     double inner_radius_mm) {
    if (inner_radius_mm < same_point_mm) return joined_belts(hub, eyes);
    // Grown by the radius and shrunk again, an outline keeps its belts and gets its inner corners rounded.
    std::vector<Circle> grown(eyes.begin(), eyes.end());
    for (Circle& eye : grown) eye.radius_mm += inner_radius_mm;
    const auto sharp = joined_belts({hub.centre, hub.radius_mm + inner_radius_mm}, grown);
    if (!sharp) return {};
    const std::vector<Contour> loops = inset(*sharp, inner_radius_mm);
    if (loops.size() != 1) return {};
    return loops.front();
}

}  // namespace fitup::plan
