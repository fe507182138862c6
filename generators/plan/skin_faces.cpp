#include "plan/skin_faces.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>

#include "base/union_find.hpp"

namespace fitup::plan {
namespace {

constexpr double endless = std::numeric_limits<double>::infinity();

/// Names of faces after the items that made them.
class Names {
  public:
    Names(const Layout& layout, const Stock& stock) : layout_(layout), stock_(stock) {}

    std::string of_floor(const End& end) const {
        if (end.item == 0) return end.z_outer == 0.0 ? "face A" : "face B";
        return of_item(end.item);
    }

    std::string of_slope(const End& end, bool faces_up) const {
        if (end.item == 0) return faces_up ? "edge break B" : "edge break A";
        return of_item(end.item);
    }

    /// After the item whose contour this is and which accounts for most of the wall's height; cuts before
    /// metal.
    std::string of_wall(std::size_t loop, double low, double high, bool metal_inside) const {
        const Bound* best = nullptr;
        std::pair<double, bool> best_claim{0.0, false};
        for (const Bound& bound : layout_.loops[loop].bounds) {
            const Item& item = layout_.items[bound.item];
            const bool is_cut = item.kind == Item::Kind::cut;
            if (!item.in_skin || ((bound.use == Bound::Use::island) == is_cut) != metal_inside) continue;
            const auto [from, to] = span(item);
            const std::pair claim{std::min(to, high) - std::max(from, low), is_cut};
            if (claim > best_claim) {
                best_claim = claim;
                best = &bound;
            }
        }
        return best ? of_item(best->item) : std::string();
    }

  private:
    std::string of_item(std::size_t item) const {
        const std::size_t index = layout_.items[item].index;
        switch (layout_.items[item].kind) {
            case Item::Kind::slab:
                return "outline";
            case Item::Kind::raised:
                return stock_.raised[index].id;
            case Item::Kind::cut:
                return stock_.cuts[index].id;
        }
        return {};
    }

    std::pair<double, double> span(const Item& item) const {
        const double top = stock_.thickness_mm;
        if (item.kind == Item::Kind::slab) return {0.0, top};
        if (item.kind == Item::Kind::raised) {
            const Raised& raised = stock_.raised[item.index];
            if (raised.side == Side::A) return {-raised.height_mm, 0.0};
            return {top, top + raised.height_mm};
        }
        const Cut& cut = stock_.cuts[item.index];
        return {cut.opens_a ? -endless : cut.z_low_mm, cut.opens_b ? endless : cut.z_high_mm};
    }

    const Layout& layout_;
    const Stock& stock_;
};

/// Heights at which metal begins or ends along a region's outer loop, or along its inner one.
std::vector<double> heights_at(const Region& region, bool at_outer) {
    std::vector<double> result;
    for (const Column& column : region.columns) {
        const double low = at_outer ? column.low.z_outer : column.low.z_inner;
        const double high = at_outer ? column.high.z_outer : column.high.z_inner;
        if (low < high) result.insert(result.end(), {low, high});
    }
    return result;
}

class Faces {
  public:
    Faces(const Layout& layout, const Stock& stock, const Regions& regions)
        : layout_(layout), names_(layout, stock), regions_(regions), contour_of_(layout.loops.size()) {}

    Skin make() {
        for (const Region& region : regions_) add_walls(region);
        add_floors();
        for (const Region& region : regions_) add_slopes(region);
        number_contours();
        find_edge_contacts();
        return std::move(skin_);
    }

  private:
    /// Walls stand where metal is on one side only.
    void add_walls(const Region& region) {
        const std::vector<double> inside = heights_at(region, true);
        const std::vector<double> outside =
            region.parent ? heights_at(regions_[*region.parent], false) : std::vector<double>{};
        std::vector<double> all(inside);
        all.insert(all.end(), outside.begin(), outside.end());
        std::sort(all.begin(), all.end());
        all.erase(std::unique(all.begin(), all.end()), all.end());
        const auto has_metal = [](const std::vector<double>& heights, double low) {
            return (std::upper_bound(heights.begin(), heights.end(), low) - heights.begin()) % 2 == 1;
        };
        double start = 0.0;
        bool standing = false;
        bool metal_inside = false;
        for (const double z : all) {
            const bool in = has_metal(inside, z);
            const bool out = has_metal(outside, z);
            if (standing && in != out && metal_inside == in) continue;
            if (standing) add_wall(region.loop, start, z, metal_inside);
            standing = in != out;
            metal_inside = in;
            start = z;
        }
    }

    void add_wall(std::size_t loop, double low, double high, bool metal_inside) {
        skin_.walls.push_back({loop, low, high, metal_inside, names_.of_wall(loop, low, high, metal_inside)});
    }

    /// A flat end of a column.
    struct Patch {
        std::size_t region = 0;
        const End* end = nullptr;
        bool faces_up = false;
    };

    void add_floors() {
        std::vector<Patch> patches;
        std::vector<std::size_t> first_of_region;
        for (std::size_t k = 0; k < regions_.size(); ++k) {
            first_of_region.push_back(patches.size());
            for (const Column& column : regions_[k].columns) {
                if (column.low.is_flat()) patches.push_back({k, &column.low, false});
                if (column.high.is_flat()) patches.push_back({k, &column.high, true});
            }
        }
        first_of_region.push_back(patches.size());
        UnionFind sets(patches.size());
        for (std::size_t k = 0; k < patches.size(); ++k) {
            const auto& parent = regions_[patches[k].region].parent;
            if (!parent) continue;
            for (std::size_t other = first_of_region[*parent]; other < first_of_region[*parent + 1];
                 ++other) {
                const bool level = patches[k].end->z_outer == patches[other].end->z_outer;
                if (level && patches[k].faces_up == patches[other].faces_up) sets.join(k, other);
            }
        }
        emit_floors(patches, first_of_region, sets);
    }

    /// A set of patches is one floor: its outer loop is that of its outermost region (the first, parents come
    /// first).
    void emit_floors(const std::vector<Patch>& patches, const std::vector<std::size_t>& first_of_region,
                     UnionFind& sets) {
        std::vector<std::size_t> floor_of(patches.size());
        for (std::size_t k = 0; k < patches.size(); ++k) {
            const std::size_t root = sets.find(k);
            if (root == k) {
                floor_of[k] = skin_.floors.size();
                const Patch& patch = patches[k];
                skin_.floors.push_back({patch.end->z_outer,
                                        patch.faces_up,
                                        regions_[patch.region].loop,
                                        {},
                                        names_.of_floor(*patch.end)});
            }
            Floor& floor = skin_.floors[floor_of[root]];
            for (const std::size_t child : regions_[patches[k].region].children) {
                bool goes_on = false;
                for (std::size_t other = first_of_region[child]; other < first_of_region[child + 1];
                     ++other) {
                    goes_on = goes_on || sets.find(other) == root;
                }
                if (!goes_on) floor.inner.push_back(regions_[child].loop);
            }
        }
    }

    void add_slopes(const Region& region) {
        const auto add = [&](const End& end, bool faces_up) {
            if (end.is_flat()) return;
            Slope slope{region.loop, std::nullopt, end.z_outer,
                        end.z_inner, faces_up,     names_.of_slope(end, faces_up)};
            if (!region.children.empty()) slope.inner = regions_[region.children.front()].loop;
            skin_.slopes.push_back(slope);
        };
        for (const Column& column : region.columns) {
            add(column.low, false);
            add(column.high, true);
        }
    }

    /// Faces speak of loops so far; now of the skin's own contours, in the order of the plan.
    void number_contours() {
        std::vector<std::size_t*> uses;
        for (Wall& wall : skin_.walls) uses.push_back(&wall.contour);
        for (Floor& floor : skin_.floors) {
            uses.push_back(&floor.outer);
            for (std::size_t& inner : floor.inner) uses.push_back(&inner);
        }
        for (Slope& slope : skin_.slopes) {
            uses.push_back(&slope.outer);
            if (slope.inner) uses.push_back(&*slope.inner);
        }
        for (const std::size_t* use : uses) contour_of_[*use] = 0;
        for (std::size_t loop = 0; loop < contour_of_.size(); ++loop) {
            if (!contour_of_[loop]) continue;
            contour_of_[loop] = skin_.contours.size();
            skin_.contours.push_back(layout_.loops[loop].contour);
        }
        for (std::size_t* use : uses) *use = *contour_of_[*use];
    }

    void find_edge_contacts() {
        std::vector<std::pair<std::size_t, double>> rings;
        for (const Wall& wall : skin_.walls) {
            rings.insert(rings.end(), {{wall.contour, wall.z_low_mm}, {wall.contour, wall.z_high_mm}});
        }
        for (const Floor& floor : skin_.floors) {
            rings.emplace_back(floor.outer, floor.z_mm);
            for (const std::size_t inner : floor.inner) rings.emplace_back(inner, floor.z_mm);
        }
        for (const Slope& slope : skin_.slopes) {
            rings.emplace_back(slope.outer, slope.z_outer_mm);
            if (slope.inner) rings.emplace_back(*slope.inner, slope.z_inner_mm);
        }
        std::sort(rings.begin(), rings.end());
        for (std::size_t k = 0; k + 2 < rings.size(); ++k) {
            const bool is_third = rings[k] == rings[k + 2] && (k == 0 || rings[k - 1] != rings[k]);
            if (is_third) skin_.edge_contacts.push_back({rings[k].first, rings[k].second});
        }
        skin_.touches_itself = !skin_.edge_contacts.empty();
    }

    const Layout& layout_;
    Names names_;
    const Regions& regions_;
    std::vector<std::optional<std::size_t>> contour_of_;
    Skin skin_;
};

}  // namespace

Skin build_faces(const Layout& layout, const Stock& stock, const Regions& regions) {
    return Faces(layout, stock, regions).make();
}

}  // namespace fitup::plan
