#include "sheets/rims.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "plan/vector.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;
using plan::Stroke;

/// How far beside a curve the metal is looked at: well over the accuracy of a crossing, well under any
/// feature.
constexpr double beside_mm = 1e-4;
/// Heights nearer than this are one: more than a steep cone changes over `beside_mm`.
constexpr double same_height_mm = 2e-3;
/// Ends of curves nearer to another curve than this lie on it.
constexpr double on_curve_mm = 1e-6;

struct Curve {
    Stroke stroke;
    plan::Box2 box;
    bool is_mark = false;
};

/// A drill point has the circle of its hole, which comes just before it.
bool is_known(const std::vector<Curve>& curves, const Stroke& stroke) {
    constexpr std::ptrdiff_t parts_of_a_hole = 4;
    const auto same = [&](const Curve& curve) {
        return curve.stroke.from == stroke.from && curve.stroke.to == stroke.to &&
               curve.stroke.centre == stroke.centre && curve.stroke.sweep_rad == stroke.sweep_rad;
    };
    const auto last = std::min<std::ptrdiff_t>(parts_of_a_hole, std::ssize(curves));
    return std::any_of(curves.end() - last, curves.end(), same);
}

void add_curves(std::vector<Curve>& curves, const plan::Contour& contour, bool is_mark) {
    for (const Stroke& stroke : plan::strokes_of(contour)) {
        if (!is_known(curves, stroke)) curves.push_back({stroke, plan::box(stroke), is_mark});
    }
}

/// Where a cone comes out through the flat end of another feature, or through a face.
void add_cone_circles(std::vector<Curve>& curves, const MetalMap& metal, const Feature& cone) {
    const auto add_at = [&](double z_mm) {
        if (z_mm <= cone.cone_low_mm + on_curve_mm || z_mm >= cone.cone_high_mm - on_curve_mm) return;
        const double share = (z_mm - cone.cone_low_mm) / (cone.cone_high_mm - cone.cone_low_mm);
        const double radius_mm = cone.radius_low_mm + share * (cone.radius_high_mm - cone.radius_low_mm);
        add_curves(curves, plan::Contour(plan::Circle{cone.area.outer.circle()->centre, radius_mm}), false);
    };
    for (const Feature& other : metal.features()) {
        if (&other == &cone || other.is_sloped() || plan::distance_mm(other.box, cone.box) > 0.0) continue;
        add_at(other.low_mm);
        add_at(other.high_mm);
    }
}

std::vector<Curve> curves_of(const MetalMap& metal) {
    std::vector<Curve> curves;
    for (const Feature& feature : metal.features()) {
        for (const plan::Contour* contour : feature.contours()) add_curves(curves, *contour, feature.is_mark);
        if (feature.shape == Feature::Shape::cone) add_cone_circles(curves, metal, feature);
        if (feature.shape != Feature::Shape::chamfered) continue;
        for (const plan::Contour& narrow : plan::inset(feature.area.outer, feature.break_mm))
            add_curves(curves, narrow, false);
    }
    return curves;
}

bool are_apart(const plan::Box2& a, const plan::Box2& b) {
    return a.most.x_mm < b.least.x_mm - on_curve_mm || b.most.x_mm < a.least.x_mm - on_curve_mm ||
           a.most.y_mm < b.least.y_mm - on_curve_mm || b.most.y_mm < a.least.y_mm - on_curve_mm;
}

/// Where others meet a curve, as shares of it, with its ends.
std::vector<double> meetings(const std::vector<Curve>& curves, std::size_t own) {
    const Curve& curve = curves[own];
    std::vector<double> shares{0.0, 1.0};
    for (std::size_t k = 0; k < curves.size(); ++k) {
        if (k == own || are_apart(curve.box, curves[k].box)) continue;
        const Stroke& other = curves[k].stroke;
        for (const Point& at : plan::crossings(curve.stroke, other))
            shares.push_back(plan::share_of(curve.stroke, at));
        for (const Point& end : {other.from, other.to}) {
            if (plan::distance_mm(plan::nearest_point(curve.stroke, end), end) < on_curve_mm)
                shares.push_back(plan::share_of(curve.stroke, end));
        }
    }
    std::sort(shares.begin(), shares.end());
    return shares;
}

enum class Look { none, hidden, visible };

bool differ(const MetalEnd& a, const MetalEnd& b) {
    return std::abs(a.middle_mm() - b.middle_mm()) > same_height_mm || a.is_sloped != b.is_sloped;
}

bool differ(const std::vector<Stretch>& a, const std::vector<Stretch>& b) {
    if (a.size() != b.size()) return true;
    for (std::size_t k = 0; k < a.size(); ++k) {
        if (differ(a[k].low, b[k].low) || differ(a[k].high, b[k].high)) return true;
    }
    return false;
}

/// What an eye at a side meets first; nothing: it looks through.
MetalEnd in_sight(const std::vector<Stretch>& metal, plan::Side side) {
    constexpr double nothing = std::numeric_limits<double>::max();
    if (metal.empty()) return {nothing, nothing, false};
    return side == plan::Side::B ? metal.back().high : metal.front().low;
}

Look look_of(const MetalMap& metal, plan::Side side, const Stroke& piece) {
    const Point middle = plan::point_at(piece, 0.5);
    const Point aside = plan::left_of(plan::direction_at(piece, 0.5)) * beside_mm;
    const auto left = metal.at(middle + aside), right = metal.at(middle - aside);
    if (differ(in_sight(left, side), in_sight(right, side))) return Look::visible;
    return differ(left, right) ? Look::hidden : Look::none;
}

/// A stretch of one curve that looks the same.
struct Piece {
    double from = 0.0, to = 0.0;
    Look look = Look::none;
};

std::vector<Piece> pieces_of(const MetalMap& metal, plan::Side side, const std::vector<Curve>& curves,
                             std::size_t own) {
    const Stroke& stroke = curves[own].stroke;
    const double whole_mm = plan::length_mm(stroke);
    std::vector<Piece> pieces;
    double from = 0.0;
    for (const double to : meetings(curves, own)) {
        if ((to - from) * whole_mm < 10.0 * on_curve_mm && to < 1.0) continue;
        if ((to - from) * whole_mm < plan::same_point_mm) continue;
        Look look = look_of(metal, side, plan::part_of(stroke, from, to));
        if (curves[own].is_mark && look == Look::hidden) look = Look::none;
        if (!pieces.empty() && pieces.back().look == look)
            pieces.back().to = to;
        else
            pieces.push_back({from, to, look});
        from = to;
    }
    return pieces;
}

bool is_circle(const Stroke& stroke) { return std::abs(stroke.sweep_rad) > 2.0 * std::numbers::pi - 1e-12; }

void add_rims(std::vector<Rim>& rims, const Stroke& stroke, std::vector<Piece> pieces) {
    std::optional<Piece> round;
    if (pieces.size() > 1 && is_circle(stroke) && pieces.front().look == pieces.back().look) {
        round = pieces.back();
        round->to = pieces.front().to;
        pieces.erase(pieces.begin());
        pieces.pop_back();
    }
    for (const Piece& piece : pieces) {
        if (piece.look != Look::none)
            rims.push_back({plan::part_of(stroke, piece.from, piece.to), piece.look == Look::visible});
    }
    if (!round || round->look == Look::none) return;
    Stroke joined = plan::part_of(stroke, round->from, 1.0);
    joined.to = plan::point_at(stroke, round->to);
    joined.sweep_rad += plan::part_of(stroke, 0.0, round->to).sweep_rad;
    rims.push_back({joined, round->look == Look::visible});
}

}  // namespace

std::vector<Rim> rims_seen(const MetalMap& metal, plan::Side side) {
    const std::vector<Curve> curves = curves_of(metal);
    std::vector<Rim> rims;
    for (std::size_t k = 0; k < curves.size(); ++k)
        add_rims(rims, curves[k].stroke, pieces_of(metal, side, curves, k));
    return rims;
}

}  // namespace fitup::sheets
