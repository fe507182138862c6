#include "plan/skin_whole.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fitup::plan {
namespace {

bool boxes_meet(const Box2& a, const Box2& b) {
    return a.least.x_mm <= b.most.x_mm && b.least.x_mm <= a.most.x_mm && a.least.y_mm <= b.most.y_mm &&
           b.least.y_mm <= a.most.y_mm;
}

bool is_of_hole(const Cut& cut) { return cut.role != CutRole::pocket; }

bool of_one_hole(const Cut& a, const Cut& b) { return is_of_hole(a) && is_of_hole(b) && a.owner == b.owner; }

bool is_within_slab(const Stock& stock, const Cut& cut) {
    const Contour& edge = stock.broken_outline ? *stock.broken_outline : stock.outline;
    return cut.z_low_mm > -same_point_mm && cut.z_high_mm < stock.thickness_mm + same_point_mm &&
           relation(cut.area.outer, edge) == Relation::first_inside_second;
}

/// Whether the cut would go on through metal that stands on a face.
bool is_under(const Cut& cut, const Raised& raised) {
    if (!(raised.side == Side::A ? cut.opens_a : cut.opens_b)) return false;
    const bool in_its_bore = std::any_of(raised.inner.begin(), raised.inner.end(), [&](const Contour& inner) {
        const Relation found = relation(cut.area.outer, inner);
        return found == Relation::first_inside_second || found == Relation::same;
    });
    return !in_its_bore && relation(cut.area.outer, raised.outer) != Relation::apart;
}

/// Answers whether cuts meet others in space.
class Neighbourhood {
  public:
    explicit Neighbourhood(std::span<const Cut> cuts) : cuts_(cuts) {
        for (const Cut& cut : cuts) boxes_.push_back(cut.area.outer.box());
    }
    bool is_clear(std::size_t cut) const {
        for (std::size_t other = 0; other < cuts_.size(); ++other) {
            if (other == cut || of_one_hole(cuts_[cut], cuts_[other])) continue;
            if (!boxes_meet(boxes_[cut], boxes_[other])) continue;
            if (gap(cuts_[cut], cuts_[other]).distance_mm <= same_point_mm) return false;
        }
        return true;
    }

  private:
    std::span<const Cut> cuts_;
    std::vector<Box2> boxes_;
};

/// What cuts on one axis take together, found as what is missing from a bare disc around them.
std::optional<double> taken_mm3(std::span<const Cut> cuts, double thickness_mm) {
    const Box2 box = cuts.front().area.outer.box();
    double radius = 0.0;
    for (const Cut& cut : cuts) {
        const Box2 own = cut.area.outer.box();
        radius = std::max(radius, std::hypot(own.most.x_mm - own.least.x_mm, own.most.y_mm - own.least.y_mm));
    }
    const Point centre{(box.least.x_mm + box.most.x_mm) / 2, (box.least.y_mm + box.most.y_mm) / 2};
    const Contour disc{Circle{centre, radius}};
    const Parted parted = part_skin({disc, thickness_mm, 0.0, std::nullopt, {}, cuts});
    if (!parted.left.empty()) return std::nullopt;
    return disc.area_mm2() * thickness_mm - parted.result.skin.volume_mm3;
}

/// What the cuts of one hole that left the skin take beyond those that stayed.
std::optional<double> taken_beyond_skin_mm3(const Stock& stock, std::size_t first, std::size_t end,
                                            const std::vector<bool>& left) {
    const std::span<const Cut> all = stock.cuts.subspan(first, end - first);
    std::vector<Cut> stayed;
    for (std::size_t k = first; k < end; ++k) {
        if (!left[k]) stayed.push_back(stock.cuts[k]);
    }
    const auto together = taken_mm3(all, stock.thickness_mm);
    if (!together || stayed.empty()) return together;
    const auto without = taken_mm3(stayed, stock.thickness_mm);
    if (!without) return std::nullopt;
    return *together - *without;
}

std::ptrdiff_t offset(std::size_t k) { return static_cast<std::ptrdiff_t>(k); }

bool all_stand_alone(const Stock& stock, const std::vector<std::size_t>& left) {
    const Neighbourhood neighbourhood(stock.cuts);
    return std::all_of(left.begin(), left.end(), [&](std::size_t k) {
        const Cut& cut = stock.cuts[k];
        const bool is_covered = std::any_of(stock.raised.begin(), stock.raised.end(),
                                            [&](const Raised& raised) { return is_under(cut, raised); });
        return !is_covered && is_within_slab(stock, cut) && neighbourhood.is_clear(k);
    });
}

}  // namespace

std::optional<double> whole_volume_mm3(const Stock& stock, const Parted& parted) {
    double volume = parted.result.skin.volume_mm3;
    if (!parted.result.overlapping_raised.empty()) return std::nullopt;
    if (parted.left.empty()) return volume;
    if (!all_stand_alone(stock, parted.left)) return std::nullopt;
    std::vector<bool> left(stock.cuts.size(), false);
    for (const std::size_t k : parted.left) left[k] = true;
    // The cuts of one hole stand together; a pocket's cuts are each alone, since they are clear of one
    // another.
    for (std::size_t first = 0; first < stock.cuts.size();) {
        std::size_t end = first + 1;
        while (end < stock.cuts.size() && of_one_hole(stock.cuts[first], stock.cuts[end])) ++end;
        if (std::find(left.begin() + offset(first), left.begin() + offset(end), true) !=
            left.begin() + offset(end)) {
            const auto taken = is_of_hole(stock.cuts[first]) ? taken_beyond_skin_mm3(stock, first, end, left)
                                                             : plan::volume_mm3(stock.cuts[first]);
            if (!taken) return std::nullopt;
            volume -= *taken;
        }
        first = end;
    }
    return volume;
}

}  // namespace fitup::plan
