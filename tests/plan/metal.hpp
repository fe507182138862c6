#pragma once

#include <algorithm>
#include <cmath>
#include <vector>

#include "plan/plan.hpp"

/// A second way to a part's volume, straight from the plan: what a probe along Z meets at a point, and what
/// the parts of one hole take as a body of revolution. Shares no code with cuts or skin.
namespace fitup::plan::testing {

struct Interval {
    double low = 0.0;
    double high = 0.0;
};

inline constexpr double beyond = 1e6;

inline void take(std::vector<Interval>& metal, double low, double high) {
    std::vector<Interval> rest;
    for (const Interval& one : metal) {
        if (high <= one.low || low >= one.high) {
            rest.push_back(one);
            continue;
        }
        if (one.low < low) rest.push_back({one.low, low});
        if (high < one.high) rest.push_back({high, one.high});
    }
    metal = rest;
}

/// From the plane of a face inwards to `depth`, and outwards for ever.
inline void take_from(std::vector<Interval>& metal, Side side, double depth, double thickness) {
    const bool through = depth >= thickness;
    if (side == Side::A) take(metal, -beyond, through ? beyond : depth);
    if (side == Side::B) take(metal, through ? -beyond : thickness - depth, beyond);
}

/// Distance of a point from a round hole's axis, or from the line that a slot's cutter went along.
inline double away_mm(const Hole& hole, Point point) {
    const double half = hole.slot_length_mm ? (*hole.slot_length_mm - hole.diameter_mm) / 2 : 0.0;
    const double turn = hole.slot_direction.degrees() * 3.14159265358979323846 / 180;
    const double x = point.x_mm - hole.at_mm.x_mm, y = point.y_mm - hole.at_mm.y_mm;
    const double along = x * std::cos(turn) + y * std::sin(turn);
    const double across = y * std::cos(turn) - x * std::sin(turn);
    return half > 0.0 ? std::hypot(std::max(0.0, std::abs(along) - half), across) : std::hypot(x, y);
}

/// How deep the hole's parts go from a face at distance `r` from a round hole's axis; 0: not at all.
inline double depth_at(const Hole& hole, Side side, double r, double thickness) {
    double depth = 0.0;
    const double radius = hole.diameter_mm / 2;
    if (hole.from == side && r < radius) {
        depth = hole.through ? thickness : hole.depth_mm;
        if (!hole.through && hole.point_angle) depth += (radius - r) / (*hole.point_angle * 0.5).tan();
    }
    if (hole.recess && hole.recess->side == side && r < hole.recess->diameter_mm / 2) {
        depth = std::max(depth, hole.recess->depth_mm);
    }
    if (hole.countersink && hole.countersink->side == side && r < hole.countersink->diameter_mm / 2) {
        const double wide = hole.countersink->diameter_mm / 2;
        const double slope = (hole.countersink->angle * 0.5).tan();
        depth = std::max(depth, (wide - std::max(r, radius)) / slope);
    }
    return depth;
}

inline bool is_in(const Area& area, Point point) {
    return area.outer.contains(point) &&
           std::none_of(area.islands.begin(), area.islands.end(),
                        [&](const Contour& one) { return one.contains(point); });
}

/// Metal on the line along Z through a point, from the lowest up. No holes from the side.
inline std::vector<Interval> metal_along(const Plan& plan, Point point) {
    const double t = plan.body.thickness_mm;
    std::vector<Interval> metal;
    if (plan.body.outline.contains(point)) {
        double cut = 0.0;
        if (plan.body.edge_break_modelled) {
            cut = std::max(0.0, *plan.body.edge_break_mm - plan.body.outline.distance_to_mm(point));
        }
        metal.push_back({cut, t - cut});
    }
    for (const Raised& ring : plan.raised) {
        if (!is_in({ring.outer, ring.inner}, point)) continue;
        const double low = ring.side == Side::A ? -ring.height_mm : t;
        take(metal, low, low + ring.height_mm);  // rings that overlap are one metal
        metal.push_back({low, low + ring.height_mm});
    }
    for (const Hole& hole : plan.holes) {
        for (const Side side : {Side::A, Side::B}) {
            const double depth = depth_at(hole, side, away_mm(hole, point), t);
            if (depth > 0.0) take_from(metal, side, depth, t);
        }
    }
    for (const Pocket& pocket : plan.pockets) {
        for (const Area& area : pocket.areas) {
            if (is_in(area, point)) take_from(metal, pocket.side, pocket.through ? t : pocket.depth_mm, t);
        }
    }
    std::sort(metal.begin(), metal.end(), [](const Interval& a, const Interval& b) { return a.low < b.low; });
    std::vector<Interval> joined;
    for (const Interval& one : metal) {
        if (!joined.empty() && one.low <= joined.back().high)
            joined.back().high = std::max(joined.back().high, one.high);
        else
            joined.push_back(one);
    }
    return joined;
}

/// Length of it.
inline double metal_at(const Plan& plan, Point point) {
    double length = 0.0;
    for (const Interval& one : metal_along(plan, point)) length += one.high - one.low;
    return length;
}

/// Mean over `points` points of a golden-section lattice: no edge can lie along its rows, as one can with a
/// square grid.
inline double probed_volume_mm3(const Plan& plan, int points) {
    Box2 box = plan.body.outline.box();
    for (const Raised& ring : plan.raised) {
        const Box2 own = ring.outer.box();
        box.least = {std::min(box.least.x_mm, own.least.x_mm), std::min(box.least.y_mm, own.least.y_mm)};
        box.most = {std::max(box.most.x_mm, own.most.x_mm), std::max(box.most.y_mm, own.most.y_mm)};
    }
    const double width = box.most.x_mm - box.least.x_mm;
    const double height = box.most.y_mm - box.least.y_mm;
    const double golden = (std::sqrt(5.0) - 1) / 2;
    double sum = 0.0;
    for (int k = 0; k < points; ++k) {
        const double up = k * golden - std::floor(k * golden);
        sum += metal_at(plan, {box.least.x_mm + (k + 0.5) / points * width, box.least.y_mm + up * height});
    }
    return sum / points * width * height;
}

/// What a hole alone takes from a bare slab: 2 pi r times the depth taken at r, integrated over r. Between
/// the radii at which anything begins the depth is piecewise linear in r; ends are found by halving. Simpson
/// is exact for the products.
inline double taken_by_hole_mm3(const Hole& hole, double thickness) {
    const auto taken = [&](double r) {
        const double a = depth_at(hole, Side::A, r, thickness);
        const double b = depth_at(hole, Side::B, r, thickness);
        return std::min(thickness, a + b);
    };
    std::vector<double> radii{0.0, hole.diameter_mm / 2};
    if (hole.recess) radii.push_back(hole.recess->diameter_mm / 2);
    if (hole.countersink) {
        radii.push_back(hole.countersink->diameter_mm / 2);
        // Where the countersink's slope meets the recess's floor on the same side, or the shaft's.
        const double wide = hole.countersink->diameter_mm / 2;
        const double slope = (hole.countersink->angle * 0.5).tan();
        if (hole.recess) radii.push_back(wide - hole.recess->depth_mm * slope);
        radii.push_back(wide - thickness * slope);
    }
    if (!hole.through && hole.point_angle) {
        const double slope = (*hole.point_angle * 0.5).tan();
        const double other = hole.recess && hole.recess->side != hole.from ? hole.recess->depth_mm : 0.0;
        radii.push_back(hole.diameter_mm / 2 - (thickness - other - hole.depth_mm) * slope);
        radii.push_back(hole.diameter_mm / 2 - (thickness - hole.depth_mm) * slope);
        if (hole.recess)
            radii.push_back(hole.diameter_mm / 2 - (hole.recess->depth_mm - hole.depth_mm) * slope);
        if (hole.countersink) {
            const double deep = (hole.countersink->diameter_mm / 2 - hole.diameter_mm / 2) /
                                (hole.countersink->angle * 0.5).tan();
            radii.push_back(hole.diameter_mm / 2 - (deep - hole.depth_mm) * slope);
            radii.push_back(hole.diameter_mm / 2 - (thickness - deep - hole.depth_mm) * slope);
        }
    }
    std::erase_if(radii, [](double r) { return r < 0.0; });
    std::sort(radii.begin(), radii.end());
    double volume = 0.0;
    for (std::size_t k = 0; k + 1 < radii.size(); ++k) {
        const double from = radii[k];
        const double to = radii[k + 1];
        if (to - from < 1e-12) continue;
        const double middle = (from + to) / 2;
        // One-sided limits at the ends, since the depth jumps there: linear in between, so two inner points
        // give it.
        const double inner = taken(from + (to - from) / 4);
        const double outer = taken(to - (to - from) / 4);
        const double at_from = inner - (outer - inner) / 2;
        const double at_to = outer + (outer - inner) / 2;
        volume += (to - from) / 6 * (from * at_from + 4 * middle * (inner + outer) / 2 + to * at_to);
    }
    return 2 * 3.14159265358979323846 * volume;
}

}  // namespace fitup::plan::testing
