#include "plan/skin_layout.hpp"

#include <algorithm>
#include <iterator>
#include <map>
#include <numeric>
#include <tuple>

namespace fitup::plan {
namespace {

/// Collects contours; circles that are equal to the last bit become one loop at once.
class Collector {
  public:
    explicit Collector(Layout& layout) : layout_(layout) {}

    void add(const Contour& contour, std::size_t item, Bound::Use use) {
        std::size_t loop = layout_.loops.size();
        if (const Circle* circle = contour.circle()) {
            const auto key = std::tuple(circle->centre.x_mm, circle->centre.y_mm, circle->radius_mm);
            loop = circles_.emplace(key, loop).first->second;
        }
        if (loop == layout_.loops.size()) {
            layout_.loops.push_back({contour, contour.box(), contour.area_mm2(), {}, {}});
        }
        layout_.loops[loop].bounds.push_back({item, use});
    }

    void add(const Area& area, std::size_t item) {
        add(area.outer, item, Bound::Use::outer);
        for (const Contour& island : area.islands) add(island, item, Bound::Use::island);
    }

  private:
    Layout& layout_;
    std::map<std::tuple<double, double, double>, std::size_t> circles_;
};

bool is_shaft(const Cut& cut) { return cut.role == CutRole::hole || cut.role == CutRole::bore; }

void collect_cuts(const Stock& stock, Layout& layout, Collector& collector) {
    std::optional<std::size_t> shaft;
    for (std::size_t k = 0; k < stock.cuts.size(); ++k) {
        const Cut& cut = stock.cuts[k];
        const std::size_t item = layout.items.size();
        const bool is_part = cut.role != CutRole::pocket && !is_shaft(cut);
        const bool follows = is_part && shaft && stock.cuts[layout.items[*shaft].index].owner == cut.owner;
        layout.items.push_back({Item::Kind::cut, k, follows ? shaft : std::nullopt, true});
        if (is_shaft(cut)) shaft = item;
        collector.add(cut.area, item);
        if (!cut.cone) continue;
        const double narrow = std::min(cut.cone->radius_low_mm, cut.cone->radius_high_mm);
        if (narrow <= same_point_mm) continue;
        collector.add(Contour(Circle{cut.area.outer.circle()->centre, narrow}), item, Bound::Use::narrow);
    }
}

void collect(const Stock& stock, Layout& layout) {
    Collector collector(layout);
    layout.items.push_back({Item::Kind::slab, 0, std::nullopt, true});
    collector.add(stock.outline, 0, Bound::Use::outer);
    if (stock.broken_outline) collector.add(*stock.broken_outline, 0, Bound::Use::narrow);
    for (std::size_t k = 0; k < stock.raised.size(); ++k) {
        const std::size_t item = layout.items.size();
        layout.items.push_back({Item::Kind::raised, k, std::nullopt, true});
        collector.add(Area{stock.raised[k].outer, stock.raised[k].inner}, item);
    }
    collect_cuts(stock, layout, collector);
}

bool boxes_meet_in_y(const Box2& a, const Box2& b) {
    return a.least.y_mm <= b.most.y_mm + same_point_mm && b.least.y_mm <= a.most.y_mm + same_point_mm;
}

/// Sweeps the loops' boxes along X and settles how every two whose boxes meet lie to each other.
class Sweep {
  public:
    explicit Sweep(Layout& layout) : layout_(layout), twin_of_(layout.loops.size()) {
        std::iota(twin_of_.begin(), twin_of_.end(), std::size_t{0});
    }

    void run() {
        std::vector<Loop>& loops = layout_.loops;
        std::vector<std::size_t> order(loops.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
            return std::pair(loops[a].box.least.x_mm, a) < std::pair(loops[b].box.least.x_mm, b);
        });
        std::vector<std::size_t> open;
        for (const std::size_t next : order) {
            const double x = loops[next].box.least.x_mm - same_point_mm;
            std::erase_if(open, [&](std::size_t other) { return loops[other].box.most.x_mm < x; });
            for (const std::size_t other : open) {
                if (boxes_meet_in_y(loops[other].box, loops[next].box)) settle(other, next);
            }
            open.push_back(next);
        }
        join_twins();
    }

  private:
    void settle(std::size_t first, std::size_t second) {
        switch (relation(layout_.loops[first].contour, layout_.loops[second].contour)) {
            case Relation::apart:
                break;
            case Relation::first_inside_second:
                layout_.loops[first].around.push_back(second);
                break;
            case Relation::second_inside_first:
                layout_.loops[second].around.push_back(first);
                break;
            case Relation::crossing:
                layout_.crossings.emplace_back(first, second);
                break;
            case Relation::same:
                twin_of_[std::max(root(first), root(second))] = std::min(root(first), root(second));
        }
    }

    std::size_t root(std::size_t loop) const {
        while (twin_of_[loop] != loop) loop = twin_of_[loop];
        return loop;
    }

    /// Contours that are the same become the first of them.
    void join_twins() {
        std::vector<Loop>& loops = layout_.loops;
        for (std::size_t k = 0; k < loops.size(); ++k) {
            const std::size_t twin = root(k);
            if (twin == k) continue;
            std::move(loops[k].bounds.begin(), loops[k].bounds.end(), std::back_inserter(loops[twin].bounds));
            std::move(loops[k].around.begin(), loops[k].around.end(), std::back_inserter(loops[twin].around));
            loops[k].bounds.clear();
            loops[k].around.clear();
        }
        for (std::size_t k = 0; k < loops.size(); ++k) {
            rename(loops[k].around);
            std::erase(loops[k].around, k);
        }
        for (auto& [first, second] : layout_.crossings)
            std::tie(first, second) = std::pair(root(first), root(second));
    }

    void rename(std::vector<std::size_t>& around) const {
        for (std::size_t& other : around) other = root(other);
        std::sort(around.begin(), around.end());
        around.erase(std::unique(around.begin(), around.end()), around.end());
    }

    Layout& layout_;
    std::vector<std::size_t> twin_of_;
};

}  // namespace

Layout lay_out(const Stock& stock) {
    Layout layout;
    collect(stock, layout);
    Sweep(layout).run();
    return layout;
}

}  // namespace fitup::plan
