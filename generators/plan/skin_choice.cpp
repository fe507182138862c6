#include <algorithm>
#include <set>
#include <tuple>
#include <utility>

#include "plan/skin_layout.hpp"

namespace fitup::plan {
namespace {

/// Which of two equally crossed items leaves: the one whose absence costs the solid least.
int leaves_first(const Item& item, const Stock& stock) {
    if (item.kind != Item::Kind::cut) return 0;
    switch (stock.cuts[item.index].role) {
        case CutRole::bore:
            return 1;
        case CutRole::hole:
            return 2;
        case CutRole::point:
            return 3;
        case CutRole::recess:
            return 4;
        case CutRole::countersink:
            return 5;
        case CutRole::pocket:
            return 6;
    }
    return 0;
}

/// Who crosses whom, item by item.
std::vector<std::set<std::size_t>> neighbours(const Layout& layout) {
    std::vector<std::set<std::size_t>> result(layout.items.size());
    for (const auto& [first, second] : layout.crossings) {
        for (const Bound& a : layout.loops[first].bounds) {
            for (const Bound& b : layout.loops[second].bounds) {
                result[a.item].insert(b.item);
                result[b.item].insert(a.item);
            }
        }
    }
    return result;
}

/// Whether a cut would open through a raised ring (asked with some reserve: its bore counts as ring).
bool opens_through(const Cut& cut, const Raised& raised) {
    if (!(raised.side == Side::A ? cut.opens_a : cut.opens_b)) return false;
    return relation(cut.area.outer, raised.outer) != Relation::apart;
}

/// Takes out the item with most crossings, again and again, until none is left.
class Elimination {
  public:
    Elimination(Layout& layout, const Stock& stock, std::vector<std::set<std::size_t>> neighbours)
        : layout_(layout), stock_(stock), neighbours_(std::move(neighbours)) {}

    void run() {
        for (std::size_t k = 0; k < layout_.items.size(); ++k) enter(k);
        while (!queue_.empty()) {
            const std::size_t worst = std::get<2>(*queue_.rbegin());
            for (const std::size_t item : drop(layout_, stock_, worst)) withdraw(item);
        }
    }

  private:
    using Place = std::tuple<std::size_t, int, std::size_t>;

    Place place(std::size_t item) const {
        return {neighbours_[item].size(), leaves_first(layout_.items[item], stock_), item};
    }
    void enter(std::size_t item) {
        if (layout_.items[item].in_skin && !neighbours_[item].empty()) queue_.insert(place(item));
    }
    void withdraw(std::size_t item) {
        queue_.erase(place(item));
        for (const std::size_t other : std::exchange(neighbours_[item], {})) {
            if (other == item) continue;
            queue_.erase(place(other));
            neighbours_[other].erase(item);
            enter(other);
        }
    }

    Layout& layout_;
    const Stock& stock_;
    std::vector<std::set<std::size_t>> neighbours_;
    std::set<Place> queue_;
};

}  // namespace

std::vector<std::size_t> drop(Layout& layout, const Stock& stock, std::size_t item) {
    std::vector<Item>& items = layout.items;
    if (!items[item].in_skin) return {};
    items[item].in_skin = false;
    std::vector<std::size_t> left{item};
    const auto also = [&](std::size_t other) {
        const std::vector<std::size_t> more = drop(layout, stock, other);
        left.insert(left.end(), more.begin(), more.end());
    };
    // The parts of a hole come right after its shaft.
    for (std::size_t k = item + 1; k < items.size() && items[k].shaft == item; ++k) also(k);
    if (items[item].kind != Item::Kind::raised) return left;
    for (std::size_t k = item + 1; k < items.size(); ++k) {
        const bool is_cut = items[k].kind == Item::Kind::cut && items[k].in_skin;
        if (is_cut && opens_through(stock.cuts[items[k].index], stock.raised[items[item].index])) also(k);
    }
    return left;
}

void choose(Layout& layout, const Stock& stock) {
    if (layout.crossings.empty()) return;
    std::vector<std::set<std::size_t>> crossed = neighbours(layout);
    // The slab can't leave; a raised ring leaves only for the slab's sake, its own, or another ring's.
    for (std::size_t k = 1; k < layout.items.size(); ++k) {
        const bool crosses_slab = crossed[k].contains(0) || crossed[k].contains(k);
        const bool crosses_ring = layout.items[k].kind == Item::Kind::raised &&
                                  std::any_of(crossed[k].begin(), crossed[k].end(), [&](std::size_t other) {
                                      return other < k && layout.items[other].in_skin;
                                  });
        if (crosses_slab || crosses_ring) drop(layout, stock, k);
    }
    for (std::size_t k = 1; k < layout.items.size(); ++k) {
        const bool crosses_ring = std::any_of(crossed[k].begin(), crossed[k].end(), [&](std::size_t other) {
            return layout.items[other].in_skin && layout.items[other].kind == Item::Kind::raised;
        });
        if (layout.items[k].kind == Item::Kind::cut && crosses_ring) drop(layout, stock, k);
    }
    for (std::size_t k = 0; k < layout.items.size(); ++k) {
        if (layout.items[k].in_skin)
            std::erase_if(crossed[k], [&](std::size_t o) { return !layout.items[o].in_skin; });
        else
            crossed[k].clear();
    }
    Elimination(layout, stock, std::move(crossed)).run();
}

}  // namespace fitup::plan
