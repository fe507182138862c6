#include "sheets/metal_map.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "plan/skin.hpp"
#include "plan/vector.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;
using plan::same_point_mm;

constexpr double endless = std::numeric_limits<double>::infinity();

Feature flat(std::string id, plan::Area area, double low_mm, double high_mm, bool takes) {
    Feature feature{std::move(id), takes, false, Feature::Shape::flat, std::move(area), low_mm, high_mm};
    feature.box = feature.area.outer.box();
    return feature;
}

bool is_within(const plan::Box2& box, Point at) {
    return at.x_mm >= box.least.x_mm && at.x_mm <= box.most.x_mm && at.y_mm >= box.least.y_mm &&
           at.y_mm <= box.most.y_mm;
}

void set_cone(Feature& feature, const plan::Cut& cut) {
    feature.shape = Feature::Shape::cone;
    feature.cone_low_mm = cut.z_low_mm;
    feature.cone_high_mm = cut.z_high_mm;
    feature.radius_low_mm = cut.cone->radius_low_mm;
    feature.radius_high_mm = cut.cone->radius_high_mm;
}

/// Metal that is left of some when a stretch is taken out.
void take(std::vector<Stretch>& metal, const Stretch& taken) {
    std::vector<Stretch> rest;
    const auto is_below = [](const MetalEnd& a, const MetalEnd& b) {
        return a.middle_mm() < b.middle_mm() - same_point_mm / 2.0;
    };
    for (const Stretch& one : metal) {
        if (!is_below(taken.low, one.high) || !is_below(one.low, taken.high)) {
            rest.push_back(one);
            continue;
        }
        if (is_below(one.low, taken.low)) rest.push_back({one.low, taken.low});
        if (is_below(taken.high, one.high)) rest.push_back({taken.high, one.high});
    }
    metal = std::move(rest);
}

void join(std::vector<Stretch>& metal) {
    std::sort(metal.begin(), metal.end(),
              [](const Stretch& a, const Stretch& b) { return a.low.middle_mm() < b.low.middle_mm(); });
    std::vector<Stretch> joined;
    for (const Stretch& one : metal) {
        if (joined.empty() || joined.back().high.middle_mm() < one.low.middle_mm() - same_point_mm) {
            joined.push_back(one);
        } else if (joined.back().high.middle_mm() < one.high.middle_mm()) {
            joined.back().high = one.high;
        }
    }
    metal = std::move(joined);
}

}  // namespace

bool Feature::holds(Point at) const {
    if (!is_within(box, at) || !area.outer.contains(at)) return false;
    return std::none_of(area.islands.begin(), area.islands.end(),
                        [&](const plan::Contour& island) { return island.contains(at); });
}

Feature::Heights Feature::heights_at(Point at) const {
    if (shape == Shape::cone) {
        const double away_mm = plan::distance_mm(area.outer.circle()->centre, at);
        const double share =
            std::clamp((away_mm - radius_low_mm) / (radius_high_mm - radius_low_mm), 0.0, 1.0);
        const double z_mm = cone_low_mm + share * (cone_high_mm - cone_low_mm);
        return radius_high_mm > radius_low_mm ? Heights{z_mm, high_mm} : Heights{low_mm, z_mm};
    }
    if (shape == Shape::barrel) {
        const double away_mm = plan::cross(axis_along, at - axis_at);
        const double half_mm = std::sqrt(std::max(0.0, radius_mm * radius_mm - away_mm * away_mm));
        return {axis_mm - half_mm, axis_mm + half_mm};
    }
    if (shape == Shape::chamfered) {
        const double taken_mm = std::max(0.0, break_mm - area.outer.distance_to_mm(at));
        return {low_mm + taken_mm, high_mm - taken_mm};
    }
    return {low_mm, high_mm};
}

std::vector<const plan::Contour*> Feature::contours() const {
    std::vector<const plan::Contour*> all{&area.outer};
    for (const plan::Contour& island : area.islands) all.push_back(&island);
    return all;
}

MetalMap::MetalMap(const plan::Plan& plan) {
    add_slab(plan);
    const double top_mm = plan.body.thickness_mm;
    for (const plan::Raised& ring : plan.raised) {
        const bool is_on_a = ring.side == plan::Side::A;
        add(flat(ring.id, {ring.outer, ring.inner}, is_on_a ? -ring.height_mm : top_mm,
                 is_on_a ? 0.0 : top_mm + ring.height_mm, false));
    }
    for (const plan::Cut& cut : plan::cuts(plan))
        add_cut(cut,
                cut.role == plan::CutRole::pocket && plan.pockets[cut.owner].kind == plan::PocketKind::mark);
    for (const plan::CrossHole& hole : plan.cross_holes) add_cross_hole(hole);
    std::sort(levels_.begin(), levels_.end());
}

void MetalMap::add(Feature feature) {
    for (const double z_mm : {feature.low_mm, feature.high_mm}) {
        if (std::isfinite(z_mm)) levels_.push_back(z_mm);
    }
    features_.push_back(std::move(feature));
}

void MetalMap::add_slab(const plan::Plan& plan) {
    Feature slab = flat("", {plan.body.outline, {}}, 0.0, plan.body.thickness_mm, false);
    if (plan.body.edge_break_modelled && plan.body.edge_break_mm.value_or(0.0) > same_point_mm &&
        !plan::skin(plan).edge_break_left_out) {
        slab.shape = Feature::Shape::chamfered;
        slab.break_mm = *plan.body.edge_break_mm;
    }
    add(std::move(slab));
}

void MetalMap::add_cut(const plan::Cut& cut, bool is_mark) {
    Feature feature = flat(cut.id, cut.area, cut.opens_a ? -endless : cut.z_low_mm,
                           cut.opens_b ? endless : cut.z_high_mm, true);
    feature.is_mark = is_mark;
    if (cut.cone) set_cone(feature, cut);
    for (const double z_mm : {cut.z_low_mm, cut.z_high_mm}) levels_.push_back(z_mm);
    add(std::move(feature));
}

void MetalMap::add_cross_hole(const plan::CrossHole& hole) {
    const Point at{hole.at_mm[0], hole.at_mm[1]};
    const Point along{hole.direction[0], hole.direction[1]};
    const Point end = at + along * hole.depth_mm;
    const Point side = plan::left_of(along) * (hole.diameter_mm / 2.0);
    const double radius_mm = hole.diameter_mm / 2.0;
    Feature feature = flat(
        hole.id, {plan::Contour({{at - side, {}}, {end - side, {}}, {end + side, {}}, {at + side, {}}}), {}},
        hole.at_mm[2] - radius_mm, hole.at_mm[2] + radius_mm, true);
    feature.shape = Feature::Shape::barrel;
    feature.axis_at = at;
    feature.axis_along = along;
    feature.axis_mm = hole.at_mm[2];
    feature.radius_mm = radius_mm;
    add(std::move(feature));
}

double MetalMap::level(double z_mm) const {
    const auto near = std::lower_bound(levels_.begin(), levels_.end(), z_mm - same_point_mm);
    return near != levels_.end() && *near <= z_mm + same_point_mm ? *near : z_mm;
}

std::vector<std::size_t> MetalMap::holding(Point place) const {
    std::vector<std::size_t> held;
    for (std::size_t k = 0; k < features_.size(); ++k) {
        if (features_[k].holds(place)) held.push_back(k);
    }
    return held;
}

std::vector<Stretch> MetalMap::between(const std::vector<std::size_t>& held, Point from, Point to) const {
    const auto stretch_of = [&](const Feature& feature) {
        const Feature::Heights at_from = feature.heights_at(from), at_to = feature.heights_at(to);
        const auto end = [&](double here_mm, double there_mm, double flat_mm) {
            return MetalEnd{level(here_mm), level(there_mm),
                            feature.is_sloped() && (here_mm != flat_mm || there_mm != flat_mm)};
        };
        return Stretch{end(at_from.low_mm, at_to.low_mm, feature.low_mm),
                       end(at_from.high_mm, at_to.high_mm, feature.high_mm)};
    };
    std::vector<Stretch> metal;
    for (const std::size_t k : held) {
        if (!features_[k].takes) metal.push_back(stretch_of(features_[k]));
    }
    join(metal);
    for (const std::size_t k : held) {
        if (features_[k].takes) take(metal, stretch_of(features_[k]));
    }
    return metal;
}

std::vector<Stretch> MetalMap::at(Point place) const { return between(holding(place), place, place); }

}  // namespace fitup::sheets
