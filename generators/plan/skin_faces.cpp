#include "plan/skin_faces.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>

namespace fitup::plan {

namespace {

struct Interval {
    double low_mm = 0.0;
    double high_mm = 0.0;
};

bool level(double a_mm, double b_mm) { return std::abs(a_mm - b_mm) < same_point_mm; }

class Sets {
  public:
    explicit Sets(std::size_t count) : parents_(count) {
        std::iota(parents_.begin(), parents_.end(), std::size_t{0});
    }
    std::size_t root(std::size_t i) {
        while (parents_[i] != i) i = parents_[i] = parents_[parents_[i]];
        return i;
    }
    void join(std::size_t a, std::size_t b) { parents_[root(a)] = root(b); }

  private:
    std::vector<std::size_t> parents_;
};

class FaceBuilder {
  public:
    FaceBuilder(const Plan& plan, const std::vector<Cut>& all, const ContourTree& tree,
                const Columns& columns)
        : plan_(plan), all_(all), tree_(tree), columns_(columns.of_region) {}

    Skin build() {
        for (const PoolContour& pool : tree_.contours) skin_.contours.push_back(pool.contour);
        for (const PoolContour& pool : tree_.contours) {
            areas_mm2_.push_back(pool.contour.area_mm2());
            perimeters_mm_.push_back(pool.contour.perimeter_mm());
        }
        for (std::size_t i = 0; i < columns_.size(); ++i) add_walls(i);
        add_floors();
        for (std::size_t i = 0; i < columns_.size(); ++i) add_slopes_and_volume(i);
        count_pieces();
        measure();
        return std::move(skin_);
    }

  private:
    std::vector<Interval> metal_inside(std::size_t i) const {
        std::vector<Interval> list;
        for (const Column& column : columns_[i]) list.push_back({column.bottom.z_mm, column.top.z_mm});
        return list;
    }

    std::vector<Interval> metal_outside(std::size_t i) const {
        std::vector<Interval> list;
        if (!tree_.contours[i].parent) return list;
        for (const Column& column : columns_[*tree_.contours[i].parent])
            list.push_back({column.bottom.at_inner(i), column.top.at_inner(i)});
        return list;
    }

    static bool holds(const std::vector<Interval>& list, double z_mm) {
        return std::any_of(list.begin(), list.end(),
                           [z_mm](const Interval& v) { return v.low_mm < z_mm && z_mm < v.high_mm; });
    }

    /// Heights at which either side changes, each once.
    static std::vector<double> heights(const std::vector<Interval>& inside,
                                       const std::vector<Interval>& outside) {
        std::vector<double> z;
        for (const auto* list : {&inside, &outside}) {
            for (const Interval& v : *list) {
                z.push_back(v.low_mm);
                z.push_back(v.high_mm);
            }
        }
        std::sort(z.begin(), z.end());
        z.erase(std::unique(z.begin(), z.end(), [](double a, double b) { return level(a, b); }), z.end());
        return z;
    }

    void add_walls(std::size_t i) {
        const auto inside = metal_inside(i);
        const auto outside = metal_outside(i);
        const auto z = heights(inside, outside);
        std::optional<Wall> open;
        for (std::size_t k = 0; k + 1 < z.size(); ++k) {
            const double middle_mm = 0.5 * (z[k] + z[k + 1]);
            const bool in = holds(inside, middle_mm);
            const bool out = holds(outside, middle_mm);
            if (open && in != out && open->metal_inside == in) {
                open->z_high_mm = z[k + 1];
                continue;
            }
            if (open && in != out) skin_.touches_itself = true;
            close_wall(open);
            if (in != out) open = Wall{i, z[k], z[k + 1], in, ""};
        }
        close_wall(open);
    }

    void close_wall(std::optional<Wall>& open) {
        if (!open) return;
        open->name = wall_name(*open);
        skin_.walls.push_back(*open);
        open.reset();
    }

    std::string wall_name(const Wall& wall) const {
        const PoolContour& pool = tree_.contours[wall.contour];
        const double middle_mm = 0.5 * (wall.z_low_mm + wall.z_high_mm);
        const auto reaches = [&](std::size_t c) {
            const Cut& cut = all_[c];
            return !cut.cone && (cut.opens_a || cut.z_low_mm < middle_mm) &&
                   (cut.opens_b || middle_mm < cut.z_high_mm);
        };
        for (const std::size_t c : wall.metal_inside ? pool.island_of : pool.outer_of) {
            if (reaches(c)) return all_[c].id;
        }
        const auto& rings = wall.metal_inside ? pool.raised_outer : pool.raised_inner;
        if (!rings.empty()) return plan_.raised[rings.front()].id;
        return "outline";
    }

    /// Flat ends as fragments; those of neighbouring regions at one height, facing one way, are one floor.
    struct Fragment {
        std::size_t region = 0;
        double z_mm = 0.0;
        bool faces_up = false;
        std::string name;
    };

    void add_floors() {
        std::vector<Fragment> fragments;
        std::vector<std::vector<std::size_t>> of_region(columns_.size());
        for (std::size_t i = 0; i < columns_.size(); ++i) {
            for (const Column& column : columns_[i]) {
                for (const bool up : {false, true}) {
                    const ColumnEnd& end = up ? column.top : column.bottom;
                    if (end.sloped) continue;
                    of_region[i].push_back(fragments.size());
                    fragments.push_back({i, end.z_mm, up, end.name});
                }
            }
        }
        Sets sets(fragments.size());
        const auto partner = [&](std::size_t region, const Fragment& fragment) -> std::optional<std::size_t> {
            for (const std::size_t other : of_region[region]) {
                if (fragments[other].faces_up == fragment.faces_up &&
                    level(fragments[other].z_mm, fragment.z_mm))
                    return other;
            }
            return {};
        };
        for (std::size_t f = 0; f < fragments.size(); ++f) {
            const auto parent = tree_.contours[fragments[f].region].parent;
            if (!parent) continue;
            if (const auto other = partner(*parent, fragments[f])) sets.join(f, *other);
        }
        emit_floors(fragments, sets, partner);
    }

    template <typename Partner>
    void emit_floors(const std::vector<Fragment>& fragments, Sets& sets, const Partner& partner) {
        std::map<std::size_t, Floor> floors;
        for (std::size_t f = 0; f < fragments.size(); ++f) {
            const Fragment& fragment = fragments[f];
            Floor& floor = floors[sets.root(f)];
            floor.z_mm = fragment.z_mm;
            floor.faces_up = fragment.faces_up;
            const auto parent = tree_.contours[fragment.region].parent;
            if (!parent || !partner(*parent, fragment)) {
                floor.outer = fragment.region;
                floor.name = fragment.name;
            }
            for (const std::size_t child : tree_.contours[fragment.region].children) {
                if (!partner(child, fragment)) floor.inner.push_back(child);
            }
        }
        for (auto& [root, floor] : floors) {
            std::sort(floor.inner.begin(), floor.inner.end());
            skin_.floors.push_back(std::move(floor));
        }
    }

    double region_area_mm2(std::size_t i) const {
        double area = areas_mm2_[i];
        for (const std::size_t child : tree_.contours[i].children) area -= areas_mm2_[child];
        return area;
    }

    /// Distance in plan between a slope's two contours.
    double slope_width_mm(std::size_t i, const ColumnEnd& end) const {
        if (!end.inner) return tree_.contours[i].contour.circle()->radius_mm;
        if (tree_.contours[i].is_outline) return *plan_.body.edge_break_mm;
        return tree_.contours[i].contour.circle()->radius_mm -
               tree_.contours[*end.inner].contour.circle()->radius_mm;
    }

    /// Volume between a slope and the flat at its outer height: the integral of perimeter x height over the
    /// width. A contour's perimeter changes linearly with its inset.
    double slope_volume_mm3(std::size_t i, const ColumnEnd& end) const {
        const double inner_mm = end.inner ? perimeters_mm_[*end.inner] : 0.0;
        return slope_width_mm(i, end) * (perimeters_mm_[i] / 6.0 + inner_mm / 3.0) *
               (end.z_inner_mm - end.z_mm);
    }

    void add_slopes_and_volume(std::size_t i) {
        const double area = region_area_mm2(i);
        for (const Column& column : columns_[i]) {
            skin_.volume_mm3 += area * (column.top.z_mm - column.bottom.z_mm);
            for (const bool up : {false, true}) {
                const ColumnEnd& end = up ? column.top : column.bottom;
                if (!end.sloped) continue;
                skin_.volume_mm3 += (up ? 1.0 : -1.0) * slope_volume_mm3(i, end);
                skin_.slopes.push_back({i, end.inner, end.z_mm, end.z_inner_mm, up, end.name});
                const double mean_mm =
                    0.5 * (perimeters_mm_[i] + (end.inner ? perimeters_mm_[*end.inner] : 0.0));
                skin_.area_mm2 += mean_mm * std::hypot(slope_width_mm(i, end), end.z_inner_mm - end.z_mm);
            }
        }
    }

    void count_pieces() {
        std::vector<std::size_t> first(columns_.size(), 0);
        std::size_t count = 0;
        for (std::size_t i = 0; i < columns_.size(); ++i) {
            first[i] = count;
            count += columns_[i].size();
        }
        Sets sets(count);
        for (std::size_t i = 0; i < columns_.size(); ++i) {
            const auto parent = tree_.contours[i].parent;
            if (!parent) continue;
            for (std::size_t a = 0; a < columns_[i].size(); ++a) {
                for (std::size_t b = 0; b < columns_[*parent].size(); ++b) {
                    const Column& in = columns_[i][a];
                    const Column& out = columns_[*parent][b];
                    const double common_mm = std::min(in.top.z_mm, out.top.at_inner(i)) -
                                             std::max(in.bottom.z_mm, out.bottom.at_inner(i));
                    if (common_mm > same_point_mm) sets.join(first[i] + a, first[*parent] + b);
                }
            }
        }
        for (std::size_t c = 0; c < count; ++c) skin_.pieces += sets.root(c) == c ? 1 : 0;
    }

    void measure() {
        constexpr double far = std::numeric_limits<double>::infinity();
        skin_.box = {{far, far, far}, {-far, -far, -far}};
        for (const Wall& wall : skin_.walls) {
            skin_.area_mm2 += perimeters_mm_[wall.contour] * (wall.z_high_mm - wall.z_low_mm);
            const Box2 plan_box = skin_.contours[wall.contour].box();
            const std::array<double, 3> low{plan_box.least.x_mm, plan_box.least.y_mm, wall.z_low_mm};
            const std::array<double, 3> high{plan_box.most.x_mm, plan_box.most.y_mm, wall.z_high_mm};
            for (std::size_t axis = 0; axis < 3; ++axis) {
                skin_.box.least[axis] = std::min(skin_.box.least[axis], low[axis]);
                skin_.box.most[axis] = std::max(skin_.box.most[axis], high[axis]);
            }
        }
        for (const Floor& floor : skin_.floors) {
            skin_.area_mm2 += areas_mm2_[floor.outer];
            for (const std::size_t inner : floor.inner) skin_.area_mm2 -= areas_mm2_[inner];
            // A slope may carry the outermost height.
            skin_.box.least[2] = std::min(skin_.box.least[2], floor.z_mm);
            skin_.box.most[2] = std::max(skin_.box.most[2], floor.z_mm);
        }
    }

    const Plan& plan_;
    const std::vector<Cut>& all_;
    const ContourTree& tree_;
    const std::vector<std::vector<Column>>& columns_;
    std::vector<double> areas_mm2_;
    std::vector<double> perimeters_mm_;
    Skin skin_;
};

}  // namespace

Skin faces_of(const Plan& plan, const std::vector<Cut>& all, const ContourTree& tree,
              const Columns& columns) {
    return FaceBuilder(plan, all, tree, columns).build();
}

}  // namespace fitup::plan
