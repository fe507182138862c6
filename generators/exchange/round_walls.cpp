#include "exchange/round_walls.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>

#include "plan/vector.hpp"

namespace fitup::exchange {

namespace {

constexpr double degrees_per_radian = 180.0 / std::numbers::pi;
/// Strips of a sphere or a fillet look like narrow partial cylinders; their facets go on smoothly on all four
/// sides.
constexpr double smooth_rad = 25.0 / degrees_per_radian;

Vector upward(const Vector& axis) {
    const auto largest = std::max_element(axis.begin(), axis.end(),
                                          [](double a, double b) { return std::abs(a) < std::abs(b); });
    return *largest < 0.0 ? axis * -1.0 : axis;
}

/// A frame whose third direction is the axis; points are taken from `origin`, near the wall, so that an axis
/// that is a little out does not move them.
struct Frame {
    Vector origin{}, x{}, y{}, axis{};

    plan::Point flat(const Vector& point) const { return {dot(point - origin, x), dot(point - origin, y)}; }
    plan::Point flat_direction(const Vector& direction) const {
        return {dot(direction, x), dot(direction, y)};
    }
    Vector in_space(plan::Point point) const { return origin + x * point.x_mm + y * point.y_mm; }
};

/// Weighted mean of the folds' directions; along an axis of coordinates within what rounding allows, exactly
/// so.
Vector axis_of(const Facets& facets, const Chain& chain) {
    Vector sum{};
    double longest = 0.0;
    const Vector first = facets.folds()[chain.folds.front()].direction;
    for (const std::uint32_t number : chain.folds) {
        const Fold& fold = facets.folds()[number];
        sum = sum + fold.direction * (dot(fold.direction, first) < 0.0 ? -fold.length_mm : fold.length_mm);
        longest = std::max(longest, fold.length_mm);
    }
    const Vector axis = unit(sum);
    const double doubt = facets.rounding_mm() / longest + 1e-12;
    for (std::size_t i = 0; i < 3; ++i) {
        Vector exact{};
        exact[i] = 1.0;
        if (length(cross(axis, exact)) < doubt) return exact;
    }
    return upward(axis);
}

Frame frame_of(const Facets& facets, const Chain& chain) {
    Frame frame;
    frame.axis = axis_of(facets, chain);
    frame.origin = facets.folds()[chain.folds.front()].middle;
    const bool is_x = std::abs(frame.axis[0]) > 0.9;
    frame.x = unit(cross(cross(frame.axis, is_x ? Vector{0, 1, 0} : Vector{1, 0, 0}), frame.axis));
    frame.y = cross(frame.axis, frame.x);
    return frame;
}

/// Turns the arcs of one chain into walls.
class WallMaker {
  public:
    WallMaker(const Facets& facets, const Chain& chain)
        : facets_(facets), chain_(chain), frame_(frame_of(facets, chain)) {}

    void append_to(std::vector<RoundWall>& walls) const {
        std::vector<plan::Point> points;
        for (const std::uint32_t fold : chain_.folds)
            points.push_back(frame_.flat(facets_.folds()[fold].middle));
        for (const Arc& arc : arcs_of(points, chain_.is_ring, facets_.rounding_mm())) {
            RoundWall wall = wall_of(arc, points);
            if (arc.is_full || !is_strip_of_something_rounder(wall.facets)) walls.push_back(std::move(wall));
        }
    }

  private:
    RoundWall wall_of(const Arc& arc, const std::vector<plan::Point>& points) const {
        RoundWall wall;
        double sweep = 0.0;
        const std::size_t steps = arc.is_full ? arc.count : arc.count - 1;
        for (std::size_t i = arc.first; i < arc.first + steps; ++i) {
            wall.facets.push_back(chain_.facets[i % chain_.facets.size()]);
            sweep += plan::angle_between_rad(points[i % points.size()] - arc.centre,
                                             points[(i + 1) % points.size()] - arc.centre);
        }
        const double inner_sweep = std::abs(sweep);
        double whole = inner_sweep;
        if (!arc.is_full) {
            whole += end_sweep(arc, points[arc.first % points.size()], facet_before(arc), wall.facets);
            whole += end_sweep(arc, points[(arc.first + arc.count - 1) % points.size()], facet_after(arc),
                               wall.facets);
        }
        wall.sagitta_mm = arc.radius_mm * (1.0 - std::cos(arc.widest_step_rad / 2.0));
        wall.cylinder = cylinder_of(arc, wall.facets);
        wall.cylinder.sweep_deg = arc.is_full ? 360.0 : std::min(whole * degrees_per_radian, 360.0);
        return wall;
    }

    std::uint32_t facet_before(const Arc& arc) const {
        if (chain_.is_ring)
            return chain_.facets[(arc.first + chain_.facets.size() - 1) % chain_.facets.size()];
        return arc.first == 0 ? chain_.facet_before : chain_.facets[arc.first - 1];
    }

    std::uint32_t facet_after(const Arc& arc) const {
        const std::size_t last = arc.first + arc.count - 1;
        if (chain_.is_ring) return chain_.facets[last % chain_.facets.size()];
        return last + 1 == chain_.folds.size() ? chain_.facet_after : chain_.facets[last];
    }

    /// The facet beyond an arc's end fold may be its last, cut short by whatever cuts the wall: then all its
    /// corners are within the circle and not farther than a step. @returns the turn that it adds
    double end_sweep(const Arc& arc, plan::Point end, std::uint32_t number,
                     std::vector<std::uint32_t>& taken) const {
        if (number == mesh::no_twin) return 0.0;
        double turn = 0.0;
        const double most = arc.radius_mm + 4.0 * facets_.rounding_mm() + 1e-6;
        for (const std::uint32_t t : facets_[number].triangles) {
            for (const std::uint32_t vertex : facets_.mesh().triangles[t]) {
                const plan::Point corner = frame_.flat(facets_.mesh().vertices[vertex]);
                if (plan::distance_mm(corner, arc.centre) > most) return 0.0;
                turn =
                    std::max(turn, std::abs(plan::angle_between_rad(end - arc.centre, corner - arc.centre)));
            }
        }
        if (turn > 1.01 * arc.widest_step_rad) return 0.0;
        taken.push_back(number);
        return turn;
    }

    Cylinder cylinder_of(const Arc& arc, const std::vector<std::uint32_t>& facets) const {
        Cylinder cylinder;
        cylinder.axis = frame_.axis;
        cylinder.radius_mm = arc.radius_mm;
        cylinder.low_mm = std::numeric_limits<double>::infinity();
        cylinder.high_mm = -cylinder.low_mm;
        double outward = 0.0;
        for (const std::uint32_t number : facets) {
            for (const std::uint32_t t : facets_[number].triangles) {
                for (const std::uint32_t vertex : facets_.mesh().triangles[t]) {
                    const Vector& corner = facets_.mesh().vertices[vertex];
                    const double along = dot(corner, frame_.axis);
                    cylinder.low_mm = std::min(cylinder.low_mm, along);
                    cylinder.high_mm = std::max(cylinder.high_mm, along);
                    outward += plan::dot(frame_.flat(corner) - arc.centre,
                                         frame_.flat_direction(facets_[number].normal));
                }
            }
        }
        cylinder.is_hole = outward < 0.0;
        const Vector on_axis = frame_.in_space(arc.centre);
        cylinder.axis_point = on_axis + frame_.axis * (cylinder.low_mm - dot(on_axis, frame_.axis));
        return cylinder;
    }

    bool is_strip_of_something_rounder(const std::vector<std::uint32_t>& facets) const {
        std::size_t smooth = 0;
        for (const std::uint32_t number : facets) {
            const Facet facet = facets_[number];
            const auto is_smooth = [this](std::uint32_t fold) {
                return facets_.folds()[fold].angle_rad < smooth_rad;
            };
            if (std::count_if(facet.folds.begin(), facet.folds.end(), is_smooth) >= 4) ++smooth;
        }
        return 2 * smooth > facets.size();
    }

    const Facets& facets_;
    const Chain& chain_;
    Frame frame_;
};

bool is_same_wall(const Cylinder& a, const Cylinder& b, double within_mm) {
    return std::abs(a.radius_mm - b.radius_mm) < within_mm && a.is_hole == b.is_hole &&
           length(cross(a.axis, b.axis)) < 1e-6 && std::abs(a.low_mm - b.low_mm) < within_mm &&
           std::abs(a.high_mm - b.high_mm) < within_mm && length(a.axis_point - b.axis_point) < within_mm;
}

}  // namespace

std::vector<RoundWall> round_walls(const Facets& facets) {
    std::vector<RoundWall> walls;
    for (const Chain& chain : chains_of(facets)) WallMaker(facets, chain).append_to(walls);
    return walls;
}

std::vector<Cylinder> joined(std::vector<Cylinder> cylinders, double within_mm) {
    std::stable_sort(cylinders.begin(), cylinders.end(),
                     [](const Cylinder& a, const Cylinder& b) { return a.axis_point[0] < b.axis_point[0]; });
    std::vector<Cylinder> result;
    for (Cylinder& cylinder : cylinders) {
        auto same = result.end();
        for (auto i = result.end(); cylinder.sweep_deg < 360.0 && i != result.begin();) {
            --i;
            if (cylinder.axis_point[0] - i->axis_point[0] > within_mm) break;
            if (i->sweep_deg < 360.0 && is_same_wall(*i, cylinder, within_mm)) same = i;
        }
        if (same == result.end())
            result.push_back(std::move(cylinder));
        else
            same->sweep_deg = std::min(360.0, same->sweep_deg + cylinder.sweep_deg);
    }
    return result;
}

}  // namespace fitup::exchange
