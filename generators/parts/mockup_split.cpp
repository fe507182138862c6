#include "parts/mockup_split.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "plan/cuts.hpp"
#include "plan/stroke.hpp"
#include "plan/vector.hpp"

namespace fitup::parts {

namespace {

using plan::Box2;
using plan::Contour;
using plan::Point;

/// An opening at least this wide may be cut through, but not near its edge, where a sliver would be left.
constexpr double wide_mm = 60.0, inside_share = 0.8;
/// A narrower piece is not worth its joints.
constexpr double least_piece_mm = 20.0;
/// Turns of the plate that are tried.
constexpr int turns = 36;

double along(Point point, std::size_t axis) { return axis == 0 ? point.x_mm : point.y_mm; }

/// What a cut has to keep clear of, or may only go through well inside.
struct Kept {
    std::string id;
    Box2 box;
    bool may_be_cut = false;
};

std::vector<Kept> kept_of(const Flat& flat) {
    std::vector<Kept> all;
    const auto add = [&](const std::string& id, const Contour& curve, bool is_hole) {
        const Box2 box = curve.box();
        const Point size = box.most - box.least;
        all.push_back({id, box, !is_hole && std::min(size.x_mm, size.y_mm) >= wide_mm});
    };
    for (const plan::Hole& hole : flat.holes)
        add(hole.id, plan::shaft_contour(hole), hole.kind != plan::HoleKind::bore);
    for (const Opening& opening : flat.openings) add(opening.id, opening.curve, false);
    return all;
}

/// Cuts across one axis of a box, so that no stretch is longer than a most.
class Row {
  public:
    Row(const std::vector<Kept>& kept, const Box2& box, std::size_t axis, double most_mm, double key_mm)
        : kept_(kept),
          box_(box),
          axis_(axis),
          from_mm_(along(box.least, axis)),
          to_mm_(along(box.most, axis)),
          most_mm_(most_mm),
          key_mm_(key_mm) {}

    /// Ends and cuts in order; nothing where a hole is always in the way.
    std::optional<std::vector<double>> edges() {
        if (to_mm_ - from_mm_ <= most_mm_) return std::vector<double>{from_mm_, to_mm_};
        find_places();
        // The best way to each place: fewest cuts, then the most even pieces.
        ways_.resize(places_.size());
        ways_.front().cost = 0.0;
        for (std::size_t to = 1; to < places_.size(); ++to) {
            for (std::size_t from = 0; from < to; ++from) consider(from, to);
        }
        if (!std::isfinite(ways_.back().cost)) return std::nullopt;
        std::vector<double> edges;
        for (std::size_t at = places_.size() - 1; at > 0; at = ways_[at].from) edges.push_back(places_[at]);
        edges.push_back(from_mm_);
        std::reverse(edges.begin(), edges.end());
        return edges;
    }

    /// Holes where the next cut would have to be, beyond the farthest that can be.
    std::vector<std::string> in_the_way() const {
        double least_mm = from_mm_;
        for (std::size_t i = 0; i + 1 < places_.size(); ++i) {
            if (std::isfinite(ways_[i].cost)) least_mm = places_[i];
        }
        std::vector<std::string> ids;
        for (const Kept& one : kept_) {
            const bool is_beyond =
                along(one.box.most, axis_) < least_mm || along(one.box.least, axis_) > least_mm + most_mm_;
            if (!is_beyond && reaches_in(one)) ids.push_back(one.id);
        }
        return ids;
    }

  private:
    struct Way {
        double cost = std::numeric_limits<double>::infinity();
        std::size_t from = 0;
    };

    /// Each piece costs far more than any unevenness.
    void consider(std::size_t from, std::size_t to) {
        constexpr double per_piece = 1e3;
        const double long_mm = places_[to] - places_[from];
        const bool is_last = to + 1 == places_.size();
        if (long_mm > most_mm_ - (is_last ? 0.0 : key_mm_) || long_mm < least_piece_mm) return;
        const double share = long_mm / most_mm_;
        const double cost = ways_[from].cost + per_piece + share * share;
        if (cost < ways_[to].cost) ways_[to] = {cost, from};
    }

    void find_places() {
        const double step_mm = std::max(1.0, (to_mm_ - from_mm_) / 400.0);
        places_.push_back(from_mm_);
        // From the middle, so that a cut through it is among them.
        const double middle_mm = (from_mm_ + to_mm_) / 2.0;
        const int half = int((to_mm_ - from_mm_) / 2.0 / step_mm);
        for (int i = -half; i <= half; ++i) {
            const double place = middle_mm + i * step_mm;
            if (place > from_mm_ && place < to_mm_ && is_free(place)) places_.push_back(place);
        }
        places_.push_back(to_mm_);
    }

    bool reaches_in(const Kept& one) const {
        const std::size_t other = 1 - axis_;
        return along(one.box.most, other) > along(box_.least, other) - off_hole_mm &&
               along(one.box.least, other) < along(box_.most, other) + off_hole_mm;
    }

    bool is_free(double place) const {
        return std::all_of(kept_.begin(), kept_.end(), [&](const Kept& one) {
            if (!reaches_in(one)) return true;
            const double low_mm = along(one.box.least, axis_), high_mm = along(one.box.most, axis_);
            if (place <= low_mm - off_hole_mm || place >= high_mm + off_hole_mm) return true;
            const double half_mm = (high_mm - low_mm) / 2.0;
            return one.may_be_cut && std::abs(place - low_mm - half_mm) <= inside_share * half_mm;
        });
    }

    const std::vector<Kept>& kept_;
    Box2 box_;
    std::size_t axis_;
    double from_mm_, to_mm_, most_mm_, key_mm_;
    std::vector<double> places_;
    std::vector<Way> ways_;
};

/// The stretch between two cuts, no longer than the metal in it.
Box2 shortened(const Flat& flat, const Box2& strip) {
    const Contour within = cell_outline(strip, flat.outline.box());
    const std::vector<Region> found = regions(flat, &within);
    if (found.empty()) return strip;
    Box2 box = found.front().outline.box();
    for (const Region& region : found) box = plan::joined(box, region.outline.box());
    return {{strip.least.x_mm, box.least.y_mm}, {strip.most.x_mm, box.most.y_mm}};
}

Divided divide_turned(const Flat& flat, const std::array<double, 2>& bed_mm, double key_mm) {
    const std::vector<Kept> kept = kept_of(flat);
    const Box2 whole = flat.outline.box();
    Row columns(kept, whole, 0, bed_mm[0], key_mm);
    const auto xs = columns.edges();
    if (!xs) return {std::nullopt, columns.in_the_way()};
    Divided divided{Division{}, {}};
    for (std::size_t i = 0; i + 1 < xs->size(); ++i) {
        Box2 strip{{(*xs)[i], whole.least.y_mm}, {(*xs)[i + 1], whole.most.y_mm}};
        if (xs->size() > 2) strip = shortened(flat, strip);
        Row rows(kept, strip, 1, bed_mm[1], key_mm);
        auto ys = rows.edges();
        if (!ys) return {std::nullopt, rows.in_the_way()};
        ys->front() = whole.least.y_mm;
        ys->back() = whole.most.y_mm;
        for (std::size_t j = 0; j + 1 < ys->size(); ++j)
            divided.division->cells.push_back({{(*xs)[i], (*ys)[j]}, {(*xs)[i + 1], (*ys)[j + 1]}});
    }
    return divided;
}

Divided divide_at(const Flat& flat, double turn_rad, const std::array<double, 2>& bed_mm, double key_mm) {
    Divided found = divide_turned(turned(flat, turn_rad), bed_mm, key_mm);
    if (found.division) found.division->turn_rad = turn_rad;
    return found;
}

void take_better(Divided& best, Divided found) {
    const bool is_better =
        found.division && (!best.division || found.division->cells.size() < best.division->cells.size());
    if (is_better) best = std::move(found);
}

double turn_of(int i) { return std::numbers::pi * i / turns; }

bool fits(const Box2& box, const std::array<double, 2>& bed_mm) {
    const Point size = box.most - box.least;
    return size.x_mm <= bed_mm[0] && size.y_mm <= bed_mm[1];
}

}  // namespace

Flat turned(const Flat& flat, double turn_rad) {
    if (turn_rad == 0.0) return flat;
    const Angle turn = Angle::from_radians(turn_rad);
    Flat result = flat;
    result.outline = plan::moved(flat.outline, turn, {});
    for (plan::Hole& hole : result.holes) {
        hole.at_mm = plan::turned(hole.at_mm, turn_rad);
        hole.slot_direction = Angle::from_radians(hole.slot_direction.radians() + turn_rad);
    }
    for (Opening& opening : result.openings) opening.curve = plan::moved(opening.curve, turn, {});
    return result;
}

Contour cell_outline(const Box2& cell, const Box2& whole) {
    const Box2 wide = widened(cell, whole);
    const Point size = wide.most - wide.least;
    return plan::rectangle((wide.least + wide.most) * 0.5, size.x_mm, size.y_mm, 0.0, {});
}

Box2 widened(const Box2& cell, const Box2& whole) {
    constexpr double beyond_mm = 10.0;
    Box2 wide = cell;
    if (cell.least.x_mm <= whole.least.x_mm) wide.least.x_mm -= beyond_mm;
    if (cell.least.y_mm <= whole.least.y_mm) wide.least.y_mm -= beyond_mm;
    if (cell.most.x_mm >= whole.most.x_mm) wide.most.x_mm += beyond_mm;
    if (cell.most.y_mm >= whole.most.y_mm) wide.most.y_mm += beyond_mm;
    return wide;
}

Divided divide(const Flat& flat, const std::array<double, 2>& bed_mm, double key_mm) {
    for (int i = 0; i < turns; ++i) {
        const double turn_rad = turn_of(i);
        const Box2 box = plan::moved(flat.outline, Angle::from_radians(turn_rad), {}).box();
        if (fits(box, bed_mm)) return {Division{turn_rad, {box}}, {}};
    }
    Divided best = divide_at(flat, turn_of(0), bed_mm, key_mm);
    take_better(best, divide_at(flat, turn_of(turns / 2), bed_mm, key_mm));
    for (int i = 1; i < turns && !best.division; ++i)
        take_better(best, divide_at(flat, turn_of(i), bed_mm, key_mm));
    return best;
}

}  // namespace fitup::parts
