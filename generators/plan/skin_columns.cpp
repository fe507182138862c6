#include "plan/skin_columns.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

namespace fitup::plan {
namespace {

constexpr double endless = std::numeric_limits<double>::infinity();

/// Makes heights that differ by rounding only equal to the last bit: the first one asked for stands for all.
class Heights {
  public:
    double operator()(double z_mm) {
        if (std::isinf(z_mm)) return z_mm;
        const auto near = known_.lower_bound(z_mm - same_point_mm);
        if (near != known_.end() && *near <= z_mm + same_point_mm) return *near;
        known_.insert(z_mm);
        return z_mm;
    }

  private:
    std::set<double> known_;
};

/// How two ends of columns lie over the whole region. `across`: one way here, the other way there.
enum class Order { below, level, above, across };

Order order(const End& a, const End& b, bool to_the_axis) {
    if (a.z_outer == b.z_outer && a.z_inner == b.z_inner) return Order::level;
    // Surfaces that meet in a point on the axis make no solid.
    if (to_the_axis && a.z_inner == b.z_inner) return Order::across;
    if (a.z_outer <= b.z_outer && a.z_inner <= b.z_inner) return Order::below;
    if (a.z_outer >= b.z_outer && a.z_inner >= b.z_inner) return Order::above;
    return Order::across;
}

/// An item that the region lies in. `narrow`: inside the small end of its slope, where it is flat.
struct Active {
    std::size_t item = 0;
    bool narrow = false;
};

/// Makes the columns of one region.
class Columns {
  public:
    Columns(const Layout& layout, const Stock& stock, Heights& heights, std::vector<std::size_t>& conflicts)
        : layout_(layout), stock_(stock), heights_(heights), conflicts_(conflicts) {}

    std::vector<Column> make(const Regions& regions, const Region& region,
                             const std::vector<Active>& active) {
        regions_ = &regions;
        region_ = &region;
        columns_.clear();
        for (const Active& one : active) add_metal(one);
        join();
        for (const Active& one : active) take_flat(one);
        for (const Active& one : active) take_cone(one);
        return columns_;
    }

  private:
    const Contour& contour(std::size_t region) const {
        return layout_.loops[(*regions_)[region].loop].contour;
    }
    const Cut& cut(const Active& one) const { return stock_.cuts[layout_.items[one.item].index]; }
    bool is_cut(const Active& one) const { return layout_.items[one.item].kind == Item::Kind::cut; }

    End flat(double z_mm, std::size_t item) {
        const double z = heights_(z_mm);
        return {z, z, item};
    }

    void add_metal(const Active& one) {
        const Item& item = layout_.items[one.item];
        const double top = stock_.thickness_mm;
        if (item.kind == Item::Kind::slab) {
            add_slab(one);
        } else if (item.kind == Item::Kind::raised) {
            const Raised& raised = stock_.raised[item.index];
            const bool on_a = raised.side == Side::A;
            columns_.push_back({flat(on_a ? -raised.height_mm : top, one.item),
                                flat(on_a ? 0.0 : top + raised.height_mm, one.item)});
        }
    }

    void add_slab(const Active& one) {
        const double top = stock_.thickness_mm;
        Column column{flat(0.0, 0), flat(top, 0)};
        if (stock_.broken_outline && !one.narrow) {
            column.low.z_outer = heights_(stock_.edge_break_mm);
            column.high.z_outer = heights_(top - stock_.edge_break_mm);
            for (const std::size_t child : region_->children) {
                if (!is_broken_outline(child)) reject(child);
            }
        }
        columns_.push_back(column);
    }

    bool is_broken_outline(std::size_t region) const {
        const std::vector<Bound>& bounds = layout_.loops[(*regions_)[region].loop].bounds;
        return std::any_of(bounds.begin(), bounds.end(), [](const Bound& bound) {
            return bound.item == 0 && bound.use == Bound::Use::narrow;
        });
    }

    /// Every item of a loop that lies in a slope.
    void reject(std::size_t region) {
        for (const Bound& bound : layout_.loops[(*regions_)[region].loop].bounds) {
            if (bound.item != 0) conflicts_.push_back(bound.item);
        }
    }

    /// Columns that touch become one. Only the slab's can be sloped: a ring on its broken edge is in
    /// conflict.
    void join() {
        if (columns_.size() < 2) return;
        std::sort(columns_.begin(), columns_.end(),
                  [](const Column& a, const Column& b) { return a.low.z_inner < b.low.z_inner; });
        std::vector<Column> joined{columns_.front()};
        for (std::size_t k = 1; k < columns_.size(); ++k) {
            const Column& next = columns_[k];
            if (joined.back().high.z_inner < next.low.z_inner) {
                joined.push_back(next);
                continue;
            }
            for (const Column& column : {joined.back(), next}) {
                if (!column.low.is_flat() && next.low.item + joined.back().low.item != 0) {
                    conflicts_.push_back(std::max(next.low.item, joined.back().low.item));
                }
            }
            if (next.high.z_inner > joined.back().high.z_inner) joined.back().high = next.high;
        }
        columns_ = std::move(joined);
    }

    void take_flat(const Active& one) {
        if (!is_cut(one) || (cut(one).cone && !one.narrow)) return;
        const Cut& taken = cut(one);
        take({flat(taken.opens_a ? -endless : taken.z_low_mm, one.item),
              flat(taken.opens_b ? endless : taken.z_high_mm, one.item)});
    }

    void take_cone(const Active& one) {
        if (!is_cut(one) || !cut(one).cone || one.narrow) return;
        const Cut& taken = cut(one);
        const double low = heights_(taken.opens_a ? -endless : taken.z_low_mm);
        const double high = heights_(taken.opens_b ? endless : taken.z_high_mm);
        const bool meets_metal = std::any_of(columns_.begin(), columns_.end(), [&](const Column& column) {
            return std::min(column.low.z_outer, column.low.z_inner) < high &&
                   std::max(column.high.z_outer, column.high.z_inner) > low;
        });
        if (!meets_metal) return;
        if (!is_ring_about(taken.area.outer.circle()->centre)) {
            conflicts_.push_back(one.item);
            return;
        }
        const End sloped = slope_of(taken, one.item);
        const bool opens_down = taken.cone->radius_low_mm > taken.cone->radius_high_mm;
        take(opens_down ? Column{{low, low, one.item}, sloped} : Column{sloped, {high, high, one.item}});
    }

    /// Whether the region is a disc or ring about an axis.
    bool is_ring_about(Point axis) const {
        const auto is_about = [&](const Contour& contour) {
            return contour.circle() && distance_mm(contour.circle()->centre, axis) < same_point_mm;
        };
        if (region_->children.size() > 1 || !is_about(layout_.loops[region_->loop].contour)) return false;
        return region_->children.empty() || is_about(contour(region_->children.front()));
    }

    End slope_of(const Cut& taken, std::size_t item) {
        const auto height_at = [&](double radius) {
            const auto [low, high] = *taken.cone;
            const double share = std::clamp((radius - low) / (high - low), 0.0, 1.0);
            return heights_(taken.z_low_mm + share * (taken.z_high_mm - taken.z_low_mm));
        };
        const double outer = layout_.loops[region_->loop].contour.circle()->radius_mm;
        const double inner =
            region_->children.empty() ? 0.0 : contour(region_->children.front()).circle()->radius_mm;
        return {height_at(outer), height_at(inner), item};
    }

    void take(const Column& taken) {
        const bool to_the_axis = region_->children.empty();
        std::vector<Column> rest;
        for (const Column& column : columns_) {
            const Order under = order(column.low, taken.low, to_the_axis);
            const Order over = order(taken.high, column.high, to_the_axis);
            const Order before = order(taken.high, column.low, to_the_axis);
            const Order after = order(taken.low, column.high, to_the_axis);
            const bool apart = before == Order::below || before == Order::level || after == Order::above ||
                               after == Order::level;
            const bool unclear = under == Order::across || over == Order::across || before == Order::across ||
                                 after == Order::across;
            if (unclear) conflicts_.push_back(taken.low.item);
            if (apart || unclear) {
                rest.push_back(column);
                continue;
            }
            if (under == Order::below) rest.push_back({column.low, taken.low});
            if (over == Order::below) rest.push_back({taken.high, column.high});
        }
        columns_ = std::move(rest);
    }

    const Layout& layout_;
    const Stock& stock_;
    Heights& heights_;
    std::vector<std::size_t>& conflicts_;
    const Regions* regions_ = nullptr;
    const Region* region_ = nullptr;
    std::vector<Column> columns_;
};

/// The tree of the loops that have an item in the skin; big loops first, so parents before children.
Regions build_tree(const Layout& layout) {
    const std::vector<Loop>& loops = layout.loops;
    const auto in_skin = [&](const Loop& loop) {
        return std::any_of(loop.bounds.begin(), loop.bounds.end(),
                           [&](const Bound& bound) { return layout.items[bound.item].in_skin; });
    };
    std::vector<std::size_t> order;
    for (std::size_t k = 0; k < loops.size(); ++k) {
        if (in_skin(loops[k])) order.push_back(k);
    }
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return loops[a].area_mm2 > loops[b].area_mm2; });
    std::vector<std::optional<std::size_t>> region_of(loops.size());
    Regions regions(order.size());
    for (std::size_t k = 0; k < order.size(); ++k) {
        regions[k].loop = order[k];
        region_of[order[k]] = k;
        for (const std::size_t around : loops[order[k]].around) {
            // The innermost of those around is the smallest, thus the last.
            if (region_of[around]) regions[k].parent = std::max(regions[k].parent, region_of[around]);
        }
        if (regions[k].parent) regions[*regions[k].parent].children.push_back(k);
    }
    return regions;
}

/// The items of the region just inside `loop`, from those just outside.
std::vector<Active> cross(const Layout& layout, const Loop& loop, std::vector<Active> active) {
    for (const Bound& bound : loop.bounds) {
        if (!layout.items[bound.item].in_skin) continue;
        const auto same_item = [&](const Active& one) { return one.item == bound.item; };
        if (bound.use == Bound::Use::outer) active.push_back({bound.item, false});
        if (bound.use == Bound::Use::island) std::erase_if(active, same_item);
        if (bound.use == Bound::Use::narrow) {
            const auto found = std::find_if(active.begin(), active.end(), same_item);
            if (found != active.end()) found->narrow = true;
        }
    }
    return active;
}

/// Fills in the columns. @returns the items that stand in the way of a skin.
std::vector<std::size_t> fill(Regions& regions, const Layout& layout, const Stock& stock) {
    Heights heights;
    heights(0.0);
    heights(stock.thickness_mm);
    std::vector<std::size_t> conflicts;
    Columns columns(layout, stock, heights, conflicts);
    std::vector<std::vector<Active>> active(regions.size());
    for (std::size_t k = 0; k < regions.size(); ++k) {
        const std::vector<Active> outside =
            regions[k].parent ? active[*regions[k].parent] : std::vector<Active>{};
        active[k] = cross(layout, layout.loops[regions[k].loop], outside);
        regions[k].columns = columns.make(regions, regions[k], active[k]);
    }
    return conflicts;
}

}  // namespace

Regions build_regions(Layout& layout, const Stock& stock) {
    while (true) {
        Regions regions = build_tree(layout);
        const std::vector<std::size_t> conflicts = fill(regions, layout, stock);
        if (conflicts.empty()) return regions;
        for (const std::size_t item : conflicts) drop(layout, stock, item);
    }
}

}  // namespace fitup::plan
