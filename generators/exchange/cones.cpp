#include <algorithm>
#include <cmath>
#include <optional>
#include <set>

#include "exchange/round_walls.hpp"

namespace fitup::exchange {

namespace {

/// Facets nearer square or parallel to the axis than this are floors or walls.
constexpr double least_slope = 0.02;
/// Facets of one cone, between polygons with different numbers of sides, rise alike within this.
constexpr double same_slope = 0.05;

/// Goes from the end of a wall over every triangle whose corners lie on one cone. A mesh may have rings of
/// corners between a cone's ends, so the slope is taken from the farthest corner met so far.
class ConeFinder {
  public:
    ConeFinder(const Facets& facets, const RoundWall& wall) : facets_(facets), wall_(wall) {
        wall_facets_.insert(wall.facets.begin(), wall.facets.end());
    }

    /// The cone beyond the end of the wall at `end_mm` along its axis; `first_facet` tells it from others.
    std::optional<ConeFace> at(double end_mm, std::uint32_t& first_facet) {
        reset(end_mm);
        for (const std::uint32_t number : wall_.facets) {
            for (const std::uint32_t t : facets_[number].triangles) {
                for (std::uint32_t edge = 3 * t; edge < 3 * t + 3; ++edge) {
                    if (is_on_end(edge) && !take_beyond(edge)) return {};
                }
            }
        }
        if (first_facet_ == mesh::no_twin) return {};
        go_on();
        first_facet = first_facet_;
        return cone();
    }

  private:
    void reset(double end_mm) {
        end_mm_ = other_mm_ = end_mm;
        first_facet_ = mesh::no_twin;
        inward_ = 0.0;
        taken_.clear();
        waiting_.clear();
    }

    double tolerance_mm() const { return 4.0 * facets_.rounding_mm() + 1e-6; }
    const Vector& vertex(std::uint32_t edge) const {
        return facets_.mesh().vertices[facets_.mesh().triangles[edge / 3][edge % 3]];
    }
    double along(const Vector& point) const { return dot(point, wall_.cylinder.axis); }
    Vector from_axis(const Vector& point) const {
        const Vector relative = point - wall_.cylinder.axis_point;
        return relative - wall_.cylinder.axis * dot(relative, wall_.cylinder.axis);
    }

    bool is_on_end(std::uint32_t edge) const {
        const std::uint32_t twin = facets_.adjacency().twin[edge];
        return twin != mesh::no_twin && !wall_facets_.contains(facets_.facet_of(twin / 3)) &&
               std::abs(along(vertex(edge)) - end_mm_) < tolerance_mm() &&
               std::abs(along(vertex(twin)) - end_mm_) < tolerance_mm();
    }

    /// @returns false when what lies beyond is no cone
    bool take_beyond(std::uint32_t edge) {
        const std::uint32_t twin = facets_.adjacency().twin[edge];
        const Vector normal = facets_[facets_.facet_of(twin / 3)].normal;
        inward_ += dot(normal, from_axis(vertex(edge)));
        if (first_facet_ == mesh::no_twin) {
            slope_ = dot(normal, wall_.cylinder.axis);
            if (std::abs(slope_) < least_slope || std::abs(slope_) > 1.0 - least_slope * least_slope)
                return false;
        }
        return take(twin);
    }

    /// Takes the triangle of a half edge when its third corner lies on the cone.
    bool take(std::uint32_t edge) {
        const std::uint32_t number = facets_.facet_of(edge / 3);
        const Vector& apex = vertex(mesh::next_in_triangle(mesh::next_in_triangle(edge)));
        if (std::abs(dot(facets_[number].normal, wall_.cylinder.axis) - slope_) > same_slope ||
            !is_on_cone(along(apex), length(from_axis(apex))))
            return false;
        first_facet_ = std::min(first_facet_, number);
        if (taken_.insert(edge / 3).second) waiting_.push_back(edge / 3);
        return true;
    }

    /// The first corner beyond the end gives the slope; a farther one gives it better.
    bool is_on_cone(double z_mm, double radius_mm) {
        const double reached_mm = other_mm_ - end_mm_;
        const double beyond_mm = z_mm - end_mm_;
        if (reached_mm != 0.0) {
            const double share = beyond_mm / reached_mm;
            const double expected_mm =
                wall_.cylinder.radius_mm + share * (other_radius_mm_ - wall_.cylinder.radius_mm);
            if (std::abs(radius_mm - expected_mm) > tolerance_mm() * (1.0 + std::abs(share))) return false;
            if (share < 0.0 && std::abs(beyond_mm) > tolerance_mm()) return false;
        }
        if (std::abs(beyond_mm) > std::max(std::abs(reached_mm), tolerance_mm()))
            other_mm_ = z_mm, other_radius_mm_ = radius_mm;
        return true;
    }

    void go_on() {
        while (!waiting_.empty()) {
            const std::uint32_t t = waiting_.back();
            waiting_.pop_back();
            for (std::uint32_t edge = 3 * t; edge < 3 * t + 3; ++edge) {
                const std::uint32_t twin = facets_.adjacency().twin[edge];
                if (twin == mesh::no_twin || taken_.contains(twin / 3)) continue;
                if (!wall_facets_.contains(facets_.facet_of(twin / 3))) take(twin);
            }
        }
    }

    std::optional<ConeFace> cone() const {
        const Cylinder& wall = wall_.cylinder;
        if (std::abs(other_mm_ - end_mm_) < tolerance_mm()) return {};
        ConeFace cone;
        cone.axis = wall.axis;
        cone.low_mm = std::min(end_mm_, other_mm_);
        cone.high_mm = std::max(end_mm_, other_mm_);
        const double tip_or_ring = other_radius_mm_ < tolerance_mm() ? 0.0 : other_radius_mm_;
        cone.radius_low_mm = other_mm_ < end_mm_ ? tip_or_ring : wall.radius_mm;
        cone.radius_high_mm = other_mm_ < end_mm_ ? wall.radius_mm : tip_or_ring;
        const double wide = cone.radius_low_mm > cone.radius_high_mm ? cone.low_mm : cone.high_mm;
        cone.axis_point = wall.axis_point + wall.axis * (wide - wall.low_mm);
        cone.is_hole = inward_ < 0.0;
        return cone;
    }

    const Facets& facets_;
    const RoundWall& wall_;
    std::set<std::uint32_t> wall_facets_;
    std::set<std::uint32_t> taken_;       ///< triangles of the cone
    std::vector<std::uint32_t> waiting_;  ///< those whose neighbours have not been looked at
    double end_mm_ = 0.0;
    std::uint32_t first_facet_ = mesh::no_twin;
    double slope_ = 0.0;
    double other_mm_ = 0.0;
    double other_radius_mm_ = 0.0;
    double inward_ = 0.0;
};

}  // namespace

std::vector<ConeFace> cones_beside(const Facets& facets, const std::vector<RoundWall>& walls) {
    std::vector<ConeFace> cones;
    std::set<std::uint32_t> seen;
    for (const RoundWall& wall : walls) {
        if (wall.cylinder.sweep_deg < 360.0) continue;
        ConeFinder finder(facets, wall);
        for (const double end_mm : {wall.cylinder.low_mm, wall.cylinder.high_mm}) {
            std::uint32_t first_facet = 0;
            const auto cone = finder.at(end_mm, first_facet);
            if (cone && seen.insert(first_facet).second) cones.push_back(*cone);
        }
    }
    return cones;
}

}  // namespace fitup::exchange
