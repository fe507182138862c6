#include "calculations/web_pair.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using plan::Contour;
using plan::Cut;
using plan::Point;

constexpr double pi = std::numbers::pi;
constexpr double endless = std::numeric_limits<double>::infinity();

bool is_disc(const plan::Area& area) { return area.outer.circle() != nullptr && area.islands.empty(); }

plan::Circle disc_round(const Contour& contour) {
    if (contour.circle() != nullptr) return *contour.circle();
    const plan::Box2 box = contour.box();
    return {(box.least + box.most) * 0.5, plan::length(box.most - box.least) / 2.0};
}

/// Whether a whole number of turns lies between two angles.
bool passes_zero(double from_rad, double to_rad) {
    return std::floor(to_rad / (2.0 * pi)) >= std::ceil(from_rad / (2.0 * pi));
}

Contour turned_about(const Contour& contour, Point centre, double turn_rad) {
    if (const plan::Circle* circle = contour.circle())
        return Contour(
            plan::Circle{centre + plan::turned(circle->centre - centre, turn_rad), circle->radius_mm});
    return plan::moved(contour, Angle::from_radians(turn_rad), centre - plan::turned(centre, turn_rad));
}

/// A block of the cut's height to the right of x, or to the left of it.
Contour block(double x_mm, double side) { return plan::rectangle({x_mm + side, 0.0}, 2.0, 2.0, 0.0, {}); }

/// Whether what lies between is a floor: the nearest points lie above one another, as the rules see it.
bool is_floor(const plan::CutGap& gap) {
    return std::hypot(gap.on_first[0] - gap.on_second[0], gap.on_first[1] - gap.on_second[1]) <=
           plan::same_point_mm;
}

/// The furthest point of a contour from a place.
double reach_from(const Contour& contour, Point place) {
    double most_mm = 0.0;
    for (const plan::Stroke& stroke : plan::strokes_of(contour)) {
        most_mm = std::max(most_mm, plan::distance_mm(stroke.from, place));
        if (stroke.is_line()) continue;
        const Point out = stroke.centre - place;
        const bool is_beyond = plan::length(out) == 0.0 || plan::spans(stroke, out);
        if (is_beyond) most_mm = std::max(most_mm, plan::length(out) + stroke.radius_mm);
    }
    return most_mm;
}

}  // namespace

WebPair::WebPair(const Cut& moving, const Cut& still, Point centre, Options options)
    : moving_(moving),
      still_(still),
      centre_(centre),
      options_(options),
      moving_is_disc_(is_disc(moving.area)),
      still_is_disc_(is_disc(still.area)),
      moving_disc_(disc_round(moving.area.outer)),
      still_disc_(disc_round(still.area.outer)),
      as_turned_(moving),
      at_origin_(moving_is_disc_ || !still_is_disc_ ? moving : still),
      beside_(moving_is_disc_ || !still_is_disc_ ? still : moving) {
    moving_arm_mm_ = plan::distance_mm(moving_disc_.centre, centre);
    still_arm_mm_ = plan::distance_mm(still_disc_.centre, centre);
    angle_between_rad_ = plan::angle_between_rad(still_disc_.centre - centre, moving_disc_.centre - centre);
    if (!moving_is_disc_) moving_edge_.emplace(moving.area);
    if (!still_is_disc_) still_edge_.emplace(still.area);
    const bool has_disc = moving_is_disc_ || still_is_disc_;
    const double radius_mm = moving_is_disc_ ? moving_disc_.radius_mm : still_disc_.radius_mm;
    at_origin_.area = {has_disc ? Contour(plan::Circle{{}, radius_mm}) : block(0.0, -1.0), {}};
    beside_.area.islands.clear();
}

double WebPair::axes_apart_mm(double turn_rad) const {
    const double a = moving_arm_mm_, b = still_arm_mm_;
    return std::sqrt(std::max(0.0, a * a + b * b - 2.0 * a * b * std::cos(angle_between_rad_ + turn_rad)));
}

WebPair::Range WebPair::axes_apart_mm(double from_rad, double to_rad) const {
    const double at_from = axes_apart_mm(from_rad), at_to = axes_apart_mm(to_rad);
    Range range{std::min(at_from, at_to), std::max(at_from, at_to)};
    const double from = angle_between_rad_ + from_rad, to = angle_between_rad_ + to_rad;
    if (passes_zero(from, to)) range.least_mm = std::abs(moving_arm_mm_ - still_arm_mm_);
    if (passes_zero(from - pi, to - pi)) range.most_mm = moving_arm_mm_ + still_arm_mm_;
    return range;
}

double WebPair::surely_mm(double turn_rad) const {
    return axes_apart_mm(turn_rad) - moving_disc_.radius_mm - still_disc_.radius_mm -
           options_.limits.most_mm();
}

double WebPair::surely_mm(double from_rad, double to_rad) const {
    return axes_apart_mm(from_rad, to_rad).least_mm - moving_disc_.radius_mm - still_disc_.radius_mm -
           options_.limits.most_mm();
}

Contour WebPair::turned(double turn_rad) const { return turned_about(moving_.area.outer, centre_, turn_rad); }

plan::CutGap WebPair::gap_at(double turn_rad) const {
    as_turned_.area.outer = turned(turn_rad);
    return plan::gap(as_turned_, still_);
}

/// The distance in the plane that the metal hangs on; of an axis inside an area negative.
double WebPair::apart_mm(double turn_rad) const {
    if (moving_is_disc_ && still_is_disc_) return axes_apart_mm(turn_rad);
    if (moving_is_disc_)
        return -still_edge_->ask(centre_ + plan::turned(moving_disc_.centre - centre_, turn_rad)).depth_mm;
    if (still_is_disc_)
        return -moving_edge_->ask(centre_ + plan::turned(still_disc_.centre - centre_, -turn_rad)).depth_mm;
    const plan::CutGap gap = gap_at(turn_rad);
    return std::hypot(gap.on_first[0] - gap.on_second[0], gap.on_first[1] - gap.on_second[1]);
}

WebPair::Range WebPair::apart_mm(double from_rad, double to_rad) const {
    if (moving_is_disc_ && still_is_disc_) return axes_apart_mm(from_rad, to_rad);
    const double middle_mm = apart_mm((from_rad + to_rad) / 2.0);
    const double arm_mm = moving_is_disc_  ? moving_arm_mm_
                          : still_is_disc_ ? still_arm_mm_
                                           : moving_arm_mm_ + moving_disc_.radius_mm;
    const double travel_mm = arm_mm * (to_rad - from_rad) / 2.0;
    return {middle_mm - travel_mm, middle_mm + travel_mm};
}

WebPair::Value WebPair::value_of(const plan::CutGap& gap, bool is_inside) const {
    if (gap.distance_mm > plan::same_point_mm)
        return {gap.distance_mm, is_floor(gap) ? options_.limits.floor_mm : options_.limits.wall_mm};
    return {is_inside && options_.may_lie_inside ? endless : 0.0, options_.limits.wall_mm};
}

/// Whether the moving cut lies wholly in the still one's area.
bool WebPair::lies_inside(double turn_rad) const {
    if (!options_.may_lie_inside) return false;
    if (moving_is_disc_ && still_is_disc_)
        return still_disc_.radius_mm - axes_apart_mm(turn_rad) >=
               moving_disc_.radius_mm + plan::same_point_mm;
    if (moving_is_disc_) return -apart_mm(turn_rad) >= moving_disc_.radius_mm + plan::same_point_mm;
    const plan::Relation relation = plan::relation(turned(turn_rad), still_.area.outer);
    return relation == plan::Relation::first_inside_second || relation == plan::Relation::same;
}

WebPair::Value WebPair::at(double turn_rad) const {
    const plan::CutGap gap = gap_at(turn_rad);
    return value_of(gap, gap.distance_mm <= plan::same_point_mm && lies_inside(turn_rad));
}

/// The metal at a distance in the plane.
WebPair::Value WebPair::at_apart(double apart_mm) const {
    const bool discs = moving_is_disc_ && still_is_disc_;
    beside_.area.outer = discs ? Contour(plan::Circle{{apart_mm, 0.0}, still_disc_.radius_mm})
                               : block(std::max(0.0, apart_mm), 1.0);
    const double depth_mm = discs ? still_disc_.radius_mm - apart_mm : -apart_mm;
    const bool is_inside = moving_is_disc_ && depth_mm >= moving_disc_.radius_mm + plan::same_point_mm;
    return value_of(plan::gap(at_origin_, beside_), is_inside);
}

WebPair::Bounds WebPair::over(double from_rad, double to_rad) const {
    const Range apart = apart_mm(from_rad, to_rad);
    const Value near = at_apart(apart.least_mm), far = at_apart(apart.most_mm);
    const Limits& limits = options_.limits;
    if (near.web_mm == endless)
        return far.web_mm == endless ? Bounds{endless, endless} : Bounds{-limits.most_mm(), endless};
    // No disc moves: whether it lies inside is only known where it is.
    if (!moving_is_disc_ && options_.may_lie_inside && near.web_mm == 0.0)
        return {-limits.most_mm(), endless};
    // Both beside one another or both above: the same is wanted all the way.
    const bool alike = near.wanted_mm == far.wanted_mm;
    return {near.web_mm - (alike ? near.wanted_mm : limits.most_mm()),
            far.web_mm - (alike ? far.wanted_mm : limits.least_mm())};
}

RimPair::RimPair(const Cut& moving, const Contour& outline, const rules::Boundary& edge, Point centre,
                 double wanted_mm)
    : moving_(moving),
      outline_(&outline),
      edge_(&edge),
      centre_(centre),
      wanted_mm_(wanted_mm),
      reach_mm_(reach_from(moving.area.outer, centre)) {
    const plan::Circle* round = outline.circle();
    is_constant_ = round != nullptr && plan::distance_mm(round->centre, centre) < plan::same_point_mm;
}

double RimPair::rim_mm(double turn_rad) const {
    if (is_constant_) return outline_->circle()->radius_mm - reach_mm_;
    const Contour turned = turned_about(moving_.area.outer, centre_, turn_rad);
    if (const plan::Circle* circle = turned.circle())
        return edge_->ask(circle->centre).depth_mm - circle->radius_mm;
    const plan::Relation relation = plan::relation(turned, *outline_);
    const double apart_mm = plan::gap(turned, *outline_).distance_mm;
    return relation == plan::Relation::first_inside_second ? apart_mm : -apart_mm;
}

WebPair::Value RimPair::at(double turn_rad) const { return {std::max(0.0, rim_mm(turn_rad)), wanted_mm_}; }

WebPair::Bounds RimPair::over(double from_rad, double to_rad) const {
    const double middle_mm = rim_mm((from_rad + to_rad) / 2.0);
    const double travel_mm = is_constant_ ? 0.0 : reach_mm_ * (to_rad - from_rad) / 2.0;
    return {std::max(0.0, middle_mm - travel_mm) - wanted_mm_,
            std::max(0.0, middle_mm + travel_mm) - wanted_mm_};
}

}  // namespace fitup::calculations
