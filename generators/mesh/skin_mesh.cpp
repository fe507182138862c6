#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "base/error.hpp"
#include "mesh/mesh.hpp"
#include "mesh/polygon.hpp"
#include "mesh/triangulation.hpp"

namespace fitup::mesh {

namespace {

/// Each time two polygons cross, their contours are made this much finer.
constexpr double refinement = 4.0;
/// The polygons of a skin's contours, made finer one by one where they would cross.
class Polygons {
  public:
    Polygons(const plan::Skin& skin, const Fineness& fineness) : skin_(skin), fineness_(fineness) {
        refinements_.resize(skin.contours.size(), 0);
        for (const plan::Contour& contour : skin.contours) polygons_.push_back(polygon_of(contour, fineness));
    }

    const std::vector<plan::Point>& operator[](std::size_t contour) const { return polygons_[contour]; }
    std::size_t size() const { return polygons_.size(); }

    void refine(std::size_t contour) {
        const int times = ++refinements_[contour];
        const double factor = std::pow(refinement, -times);
        // The sagitta goes with the square of the angle.
        const Fineness finer{fineness_.chord_mm * factor, fineness_.angle * std::sqrt(factor)};
        if (finer.chord_mm < plan::same_point_mm / refinement ||
            count_of_points(skin_.contours[contour], finer) > most_triangles) {
            throw Error("the mesh can't be made: two contours of the part cross or touch");
        }
        polygons_[contour] = polygon_of(skin_.contours[contour], finer);
    }

  private:
    const plan::Skin& skin_;
    Fineness fineness_;
    std::vector<int> refinements_;
    std::vector<std::vector<plan::Point>> polygons_;
};

/// The contours that bound a flat region, the outer one first.
using Region = std::vector<std::size_t>;

Region region_of(const plan::Floor& floor) {
    Region region{floor.outer};
    region.insert(region.end(), floor.inner.begin(), floor.inner.end());
    std::sort(region.begin() + 1, region.end());
    return region;
}

bool are_concentric(const plan::Circle* a, const plan::Circle* b) {
    return a != nullptr && b != nullptr && plan::distance_mm(a->centre, b->centre) < plan::same_point_mm;
}

bool is_band_of_circles(const plan::Skin& skin, const plan::Slope& slope) {
    return are_concentric(skin.contours[slope.outer].circle(), skin.contours[*slope.inner].circle());
}

/// Every flat region that needs triangles: floors (those of both faces once) and slopes that are no cones, in
/// plan view.
class Regions {
  public:
    Regions(const plan::Skin& skin, Polygons& polygons) {
        for (const plan::Floor& floor : skin.floors) triangulations_[region_of(floor)];
        for (const plan::Slope& slope : skin.slopes) {
            if (slope.inner && !is_band_of_circles(skin, slope)) triangulations_[{slope.outer, *slope.inner}];
        }
        while (!fill(polygons)) {
        }
    }

    const std::vector<Triangle>& operator[](const Region& region) const {
        return triangulations_.at(region).triangles;
    }

  private:
    /// @returns false when contours were refined, which other regions may already have used.
    bool fill(Polygons& polygons) {
        for (auto& [region, triangulation] : triangulations_) {
            std::vector<const std::vector<plan::Point>*> loops;
            for (const std::size_t contour : region) loops.push_back(&polygons[contour]);
            triangulation = triangulate(loops);
            for (const std::size_t loop : triangulation.crossing_loops) polygons.refine(region[loop]);
            if (!triangulation.crossing_loops.empty()) return false;
        }
        return true;
    }

    std::map<Region, Triangulation> triangulations_;
};

/// Heights that are meant to be one but were computed in two ways become one.
class Heights {
  public:
    explicit Heights(const plan::Skin& skin) {
        for (const plan::Wall& wall : skin.walls) {
            heights_.push_back(wall.z_low_mm);
            heights_.push_back(wall.z_high_mm);
        }
        for (const plan::Floor& floor : skin.floors) heights_.push_back(floor.z_mm);
        for (const plan::Slope& slope : skin.slopes) {
            heights_.push_back(slope.z_outer_mm);
            if (slope.inner) heights_.push_back(slope.z_inner_mm);
        }
        std::sort(heights_.begin(), heights_.end());
        const auto near = [](double a, double b) { return b - a < plan::same_point_mm; };
        heights_.erase(std::unique(heights_.begin(), heights_.end(), near), heights_.end());
    }

    double common(double z_mm) const {
        const auto above = std::upper_bound(heights_.begin(), heights_.end(), z_mm);
        return above == heights_.begin() ? z_mm : *(above - 1);
    }

  private:
    std::vector<double> heights_;
};

class Builder {
  public:
    Builder(const plan::Skin& skin, const Fineness& fineness)
        : skin_(skin), polygons_(skin, fineness), regions_(skin, polygons_), heights_(skin) {}

    Mesh build() {
        for (const plan::Wall& wall : skin_.walls) add(wall);
        for (const plan::Floor& floor : skin_.floors) add(floor);
        for (const plan::Slope& slope : skin_.slopes) add(slope);
        return std::move(mesh_);
    }

  private:
    /// A contour's points at a height; the same vertices for whoever asks.
    struct Ring {
        std::uint32_t first = 0;
        std::uint32_t count = 0;
        std::uint32_t operator[](std::uint32_t i) const { return first + i % count; }
    };

    Ring ring(std::size_t contour, double z_mm) {
        const double z = heights_.common(z_mm);
        const auto [place, is_new] = rings_.try_emplace({contour, z});
        if (is_new) {
            const auto& points = polygons_[contour];
            place->second = {static_cast<std::uint32_t>(mesh_.vertices.size()),
                             static_cast<std::uint32_t>(points.size())};
            for (const plan::Point point : points) mesh_.vertices.push_back({point.x_mm, point.y_mm, z});
        }
        return place->second;
    }

    void add_triangle(Triangle corners, bool as_is) {
        if (!as_is) std::swap(corners[1], corners[2]);
        mesh_.triangles.push_back(corners);
    }

    void add(const plan::Wall& wall) {
        const Ring low = ring(wall.contour, wall.z_low_mm);
        const Ring high = ring(wall.contour, wall.z_high_mm);
        for (std::uint32_t i = 0; i < low.count; ++i) {
            add_triangle({low[i], low[i + 1], high[i + 1]}, wall.metal_inside);
            add_triangle({low[i], high[i + 1], high[i]}, wall.metal_inside);
        }
    }

    void add(const plan::Floor& floor) {
        const Region region = region_of(floor);
        const std::vector<double> at(region.size(), floor.z_mm);
        add_flat(region, at, floor.faces_up);
    }

    /// The region's triangles, each contour's points at its own height.
    void add_flat(const Region& region, const std::vector<double>& z_mm, bool faces_up) {
        std::vector<std::uint32_t> vertices;
        for (std::size_t i = 0; i < region.size(); ++i) {
            const Ring points = ring(region[i], z_mm[i]);
            for (std::uint32_t k = 0; k < points.count; ++k) vertices.push_back(points[k]);
        }
        for (const Triangle& t : regions_[region]) {
            add_triangle({vertices[t[0]], vertices[t[1]], vertices[t[2]]}, faces_up);
        }
    }

    void add(const plan::Slope& slope) {
        if (!slope.inner)
            add_tip(slope);
        else if (is_band_of_circles(skin_, slope))
            add_band(slope);
        else
            add_flat({slope.outer, *slope.inner}, {slope.z_outer_mm, slope.z_inner_mm}, slope.faces_up);
    }

    void add_tip(const plan::Slope& slope) {
        const plan::Circle* circle = skin_.contours[slope.outer].circle();
        if (circle == nullptr) throw Error("the mesh can't be made: a cone's base is no circle");
        const Ring base = ring(slope.outer, slope.z_outer_mm);
        const auto tip = static_cast<std::uint32_t>(mesh_.vertices.size());
        mesh_.vertices.push_back({circle->centre.x_mm, circle->centre.y_mm, slope.z_inner_mm});
        for (std::uint32_t i = 0; i < base.count; ++i)
            add_triangle({base[i], base[i + 1], tip}, slope.faces_up);
    }

    /// Between two circles with maybe different numbers of points: whichever next point has turned less comes
    /// first.
    void add_band(const plan::Slope& slope) {
        const Ring outer = ring(slope.outer, slope.z_outer_mm);
        const Ring inner = ring(*slope.inner, slope.z_inner_mm);
        std::uint32_t i = 0;
        std::uint32_t k = 0;
        while (i < outer.count || k < inner.count) {
            const std::uint64_t outer_turn = (std::uint64_t{i} + 1) * inner.count;
            const std::uint64_t inner_turn = (std::uint64_t{k} + 1) * outer.count;
            if (outer_turn <= inner_turn) {
                add_triangle({outer[i], outer[i + 1], inner[k]}, slope.faces_up);
                ++i;
            } else {
                add_triangle({outer[i], inner[k + 1], inner[k]}, slope.faces_up);
                ++k;
            }
        }
    }

    const plan::Skin& skin_;
    Polygons polygons_;
    Regions regions_;
    Heights heights_;
    std::map<std::pair<std::size_t, double>, Ring> rings_;
    Mesh mesh_;
};

double triangles_of(const plan::Skin& skin, const Fineness& fineness) {
    std::vector<double> points;
    for (const plan::Contour& contour : skin.contours) points.push_back(count_of_points(contour, fineness));
    double count = 0.0;
    for (const plan::Wall& wall : skin.walls) count += 2.0 * points[wall.contour];
    for (const plan::Floor& floor : skin.floors) {
        count += points[floor.outer] - 2.0;
        for (const std::size_t inner : floor.inner) count += points[inner] + 2.0;
    }
    for (const plan::Slope& slope : skin.slopes)
        count += points[slope.outer] + (slope.inner ? points[*slope.inner] : 0.0);
    return count;
}

}  // namespace

std::size_t estimated_triangles(const plan::Skin& skin, const Fineness& fineness) {
    return static_cast<std::size_t>(std::min(triangles_of(skin, fineness), 1e18));
}

Mesh mesh_of(const plan::Skin& skin, const Fineness& fineness) {
    const std::size_t count = estimated_triangles(skin, fineness);
    if (count > most_triangles) {
        throw Error("the mesh would have " + std::to_string(count) + " triangles; " +
                    std::to_string(most_triangles) + " is the most that is made");
    }
    return Builder(skin, fineness).build();
}

}  // namespace fitup::mesh
