#include "calculations/clocking.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <queue>

#include "base/units.hpp"
#include "calculations/clocking_findings.hpp"
#include "rules/limits.hpp"

namespace fitup::calculations {

namespace {

constexpr double rad = 1.0 / deg_per_rad;
/// Stretches that can't hold more than this above the best are let go.
constexpr double close_mm = 1e-6;
/// A search takes some thousands; this ends one along a plateau whose bounds close slowly. What is then not
/// excluded is told.
constexpr int most_steps = 100'000;
/// Stretches to begin with are no longer than this.
constexpr double first_deg = 2.0;
/// Pairs within this of the least are named with it.
constexpr double named_within_mm = 0.5;
constexpr std::size_t most_named = 6;
constexpr int curve_steps = 1440;
/// A best turn whose like reaches further than this is a plateau, whose middle is taken.
constexpr double plateau_deg = 0.01;

struct Stretch {
    double from_deg = 0.0, to_deg = 0.0;
    double most_mm = 0.0;  ///< that may be to spare
    friend bool operator<(const Stretch& a, const Stretch& b) { return a.most_mm < b.most_mm; }
    double middle_deg() const { return (from_deg + to_deg) / 2.0; }
    double length_deg() const { return to_deg - from_deg; }
};

std::vector<double> first_turns(double from_deg, double to_deg) {
    const int count = std::max(1, int(std::ceil((to_deg - from_deg) / first_deg)));
    std::vector<double> turns;
    for (int i = 0; i <= count; ++i) turns.push_back(from_deg + (to_deg - from_deg) * i / count);
    return turns;
}

/// Halves the stretch that may hold most, until none may hold more than the best found.
class Climb {
  public:
    Climb(const WebField& field, double from_deg, double to_deg) : field_(field) {
        best_.metal.spare_mm = -std::numeric_limits<double>::infinity();
        const std::vector<double> turns = first_turns(from_deg, to_deg);
        for (const double turn_deg : turns) offer(turn_deg);
        for (std::size_t i = 1; i < turns.size(); ++i) add(turns[i - 1], turns[i]);
    }

    const BestTurn& best() const { return best_; }
    /// Nowhere is more to spare.
    double most_mm() const {
        const double open_mm =
            stretches_.empty() ? -std::numeric_limits<double>::infinity() : stretches_.top().most_mm;
        return std::max({open_mm, done_mm_, best_.metal.spare_mm});
    }

    /// False where nothing is left to halve.
    bool step() {
        if (++steps_ > most_steps || stretches_.empty() ||
            stretches_.top().most_mm <= best_.metal.spare_mm + close_mm)
            return false;
        const Stretch stretch = stretches_.top();
        stretches_.pop();
        if (stretch.length_deg() <= clocking_exact_deg) {
            done_mm_ = std::max(done_mm_, stretch.most_mm);
            return true;
        }
        offer(stretch.middle_deg());
        add(stretch.from_deg, stretch.middle_deg());
        add(stretch.middle_deg(), stretch.to_deg);
        return true;
    }

  private:
    void offer(double turn_deg) {
        const WebField::Metal metal = field_.at(turn_deg * rad);
        if (metal.spare_mm > best_.metal.spare_mm) best_ = {turn_deg, metal, 0.0};
    }
    void add(double from_deg, double to_deg) {
        const double most_mm = field_.over(from_deg * rad, to_deg * rad).most_mm;
        if (most_mm > best_.metal.spare_mm + close_mm) stretches_.push({from_deg, to_deg, most_mm});
    }

    const WebField& field_;
    BestTurn best_;
    std::priority_queue<Stretch> stretches_;
    double done_mm_ = -std::numeric_limits<double>::infinity();
    int steps_ = 0;
};

void add_ranges(const WebField& field, double from_deg, double to_deg, double spare_mm,
                std::vector<TurnRange>& ranges) {
    const WebField::Bounds bounds = field.over(from_deg * rad, to_deg * rad);
    if (bounds.most_mm < spare_mm) return;
    if (bounds.least_mm >= spare_mm) {
        if (!ranges.empty() && ranges.back().to_deg == from_deg)
            ranges.back().to_deg = to_deg;
        else
            ranges.push_back({from_deg, to_deg});
        return;
    }
    if (to_deg - from_deg <= range_exact_deg) return;
    const double middle_deg = (from_deg + to_deg) / 2.0;
    add_ranges(field, from_deg, middle_deg, spare_mm, ranges);
    add_ranges(field, middle_deg, to_deg, spare_mm, ranges);
}

/// The stretch that holds a turn; the turn alone where none does.
TurnRange range_round(const std::vector<TurnRange>& ranges, double turn_deg) {
    for (const TurnRange& range : ranges) {
        if (range.from_deg <= turn_deg && turn_deg <= range.to_deg) return range;
    }
    return {turn_deg, turn_deg};
}

/// On a plateau the middle is as good and furthest from harm.
void centre_on_plateau(const WebField& field, double from_deg, double to_deg, BestTurn& best) {
    const auto alike = ranges_with(field, from_deg, to_deg, best.metal.spare_mm - close_mm);
    const TurnRange plateau = range_round(alike, best.turn_deg);
    if (plateau.to_deg - plateau.from_deg < plateau_deg) return;
    const double middle_deg = (plateau.from_deg + plateau.to_deg) / 2.0;
    best.turn_deg = middle_deg;
    best.metal = field.at(middle_deg * rad);
}

ClockingPoint point_at(const WebField& field, double turn_deg) {
    const WebField::Metal metal = field.at(turn_deg * rad);
    return {turn_deg, metal.web_mm, metal.spare_mm};
}

std::vector<ClockingPoint> curve_of(const WebField& field, const Clocking& clocking) {
    const double span_deg = clocking.to_deg - clocking.from_deg;
    std::vector<ClockingPoint> curve;
    for (int i = 0; i <= curve_steps; ++i)
        curve.push_back(point_at(field, clocking.from_deg + span_deg * i / curve_steps));
    return curve;
}

std::vector<ClockingPair> least_pairs(const WebField& field, const BestTurn& best) {
    std::vector<ClockingPair> pairs;
    for (const auto& metal : field.under(best.turn_deg * rad, best.metal.spare_mm + named_within_mm)) {
        const ClockingPair pair{field.where(metal.pair), field.name(metal.pair), metal.web_mm,
                                metal.wanted_mm};
        // Of one hole's several cuts the nearest tells it.
        const bool is_told = std::any_of(pairs.begin(), pairs.end(),
                                         [&](const ClockingPair& one) { return one.where == pair.where; });
        if (!is_told && pairs.size() < most_named) pairs.push_back(pair);
    }
    return pairs;
}

}  // namespace

BestTurn best_turn(const WebField& field, double from_deg, double to_deg) {
    Climb climb(field, from_deg, to_deg);
    while (climb.step()) {
    }
    BestTurn best = climb.best();
    best.certain_within_mm = climb.most_mm() - best.metal.spare_mm + close_mm;
    return best;
}

Reached reach(const WebField& field, double from_deg, double to_deg, double spare_mm) {
    Climb climb(field, from_deg, to_deg);
    // Until one is found, or what the best surely falls short by is half of what the best found does.
    const auto found_short_mm = [&] { return spare_mm - climb.best().metal.spare_mm; };
    while (found_short_mm() > 0.0 && spare_mm - climb.most_mm() < 0.5 * found_short_mm() && climb.step()) {
    }
    if (climb.best().metal.spare_mm >= spare_mm) return {climb.best().turn_deg, 0.0};
    return {{}, std::max(0.0, spare_mm - climb.most_mm() - close_mm)};
}

std::vector<TurnRange> ranges_with(const WebField& field, double from_deg, double to_deg, double spare_mm) {
    std::vector<TurnRange> ranges;
    const std::vector<double> turns = first_turns(from_deg, to_deg);
    for (std::size_t i = 1; i < turns.size(); ++i)
        add_ranges(field, turns[i - 1], turns[i], spare_mm, ranges);
    return ranges;
}

std::optional<WebField> field_of(const Clocking& clocking, const PlateChange& change) {
    auto plan = clocking.plate.plan(change);
    if (!plan) return {};
    std::vector<bool> turning(plan->holes.size(), false);
    for (const std::size_t pattern : clocking.plate.turning()) {
        for (const std::size_t hole : plan->patterns[pattern].holes) turning[hole] = true;
    }
    return WebField(std::move(*plan), turning, {clocking.plate.centre_mm(), clocking.plate.sense()},
                    clocking.wanted_mm);
}

namespace {

void add_ranges(const WebField& field, const Clocking& clocking, ClockingResult& result) {
    const auto ranges = [&](double spare_mm) {
        return ranges_with(field, clocking.from_deg, clocking.to_deg, spare_mm - rules::equal_values);
    };
    const WebField::Metal& metal = result.best.metal;
    result.flat =
        range_round(ranges(metal.spare_mm - (1.0 - flat_share) * metal.web_mm), result.best.turn_deg);
    result.passing = ranges(0.0);
    result.curve = curve_of(field, clocking);
}

}  // namespace

ClockingResult work_out(const Clocking& clocking, const ClockingProgress& progress) {
    const WebField field = *field_of(clocking, {});
    progress("turning");
    ClockingResult result;
    result.best = best_turn(field, clocking.from_deg, clocking.to_deg);
    centre_on_plateau(field, clocking.from_deg, clocking.to_deg, result.best);
    result.passes = result.best.metal.spare_mm >= -rules::equal_values;
    result.now = point_at(field, 0.0);
    for (const std::size_t i : clocking.plate.turning())
        result.patterns.push_back(
            {clocking.plate.plate().patterns[i].name, clocking.plate.rotate_deg(i, result.best.turn_deg)});
    result.least = least_pairs(field, result.best);
    add_ranges(field, clocking, result);
    if (!result.passes) {
        progress("seeking what would pass");
        add_changes(clocking, result);
    }
    result.findings = clocking_findings(clocking, result);
    return result;
}

}  // namespace fitup::calculations
