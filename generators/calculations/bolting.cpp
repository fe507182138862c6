#include "calculations/bolting.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "calculations/enclosing.hpp"
#include "plan/vector.hpp"

// With d the misses at a turn, the best shift is held by up to three of them with weights w and unit vectors
// u that cancel. For any other turn and any shift max(|d'| - s) >= sum w (u . d' - s), where the shift drops
// out, and u . d' is a constant and a sine of the turn: a bound from below for every turn, exact at this one.
namespace fitup::calculations {

namespace {

using plan::dot;
using plan::left_of;
using plan::length;
using plan::Point;

constexpr double pi = std::numbers::pi;
/// The search ends here; a tenth of what is promised.
constexpr double close_mm = 1e-10;
/// Fasteners within this of the least clearance decide.
constexpr double alike_mm = 1e-7;
/// A search takes ten to thirty turns; this ends it where rounding would keep it from closing.
constexpr std::size_t most_turns = 2000;

/// constant - cosine cos(turn) - sine sin(turn)
struct Sine {
    double constant = 0.0, cosine = 0.0, sine = 0.0;
    double at(double turn) const { return constant - cosine * std::cos(turn) - sine * std::sin(turn); }
};

/// A turn that was worked out.
struct Tried {
    double turn_rad = 0.0;
    double reach_mm = 0.0;
    Point shift_mm;
    Sine bound;
};

/// A stretch of turns between two that were worked out.
struct Stretch {
    Tried from, to;
    double bound_mm = 0.0;  ///< reach within it is no less
    double at_rad = 0.0;    ///< where the bound is least
};

struct Range {
    double from = -pi, to = pi;
};

/// The mean of all places is the origin of both patterns here, so that the shift is small.
class Patterns {
  public:
    explicit Patterns(std::span<const FastenerPair> pairs) : pairs_(pairs), misses_(pairs.size()) {
        for (const FastenerPair& pair : pairs) {
            middle_first_ = middle_first_ + pair.first_mm * (1.0 / double(pairs.size()));
            middle_second_ = middle_second_ + pair.second_mm * (1.0 / double(pairs.size()));
        }
    }

    Tried at(double turn_rad) {
        const double cosine = std::cos(turn_rad), sine = std::sin(turn_rad);
        for (std::size_t i = 0; i < pairs_.size(); ++i) {
            const Point q = second(i);
            misses_[i] = {first(i) - (q * cosine + left_of(q) * sine), pairs_[i].slack_mm};
        }
        const Enclosing best = smallest_reach(misses_);
        Tried tried{turn_rad, -std::numeric_limits<double>::infinity(), best.shift_mm, {}};
        for (const Miss& miss : misses_)
            tried.reach_mm = std::max(tried.reach_mm, length(miss.by_mm - best.shift_mm) - miss.slack_mm);
        for (std::size_t k = 0; k < best.count; ++k) {
            const std::size_t i = best.held_by[k];
            const Point u = best.towards[k];
            tried.bound.constant += best.weight[k] * (dot(u, first(i)) - pairs_[i].slack_mm);
            tried.bound.cosine += best.weight[k] * dot(u, second(i));
            tried.bound.sine += best.weight[k] * dot(u, left_of(second(i)));
        }
        return tried;
    }

    double least_squares_turn() const {
        double along = 0.0, across = 0.0;
        for (std::size_t i = 0; i < pairs_.size(); ++i) {
            along += dot(second(i), first(i));
            across += plan::cross(second(i), first(i));
        }
        return along == 0.0 && across == 0.0 ? 0.0 : std::atan2(across, along);
    }

    /// Turns that can have a reach of at most `reach_mm`, by two places far apart: with P and Q from one to
    /// the other in each pattern, |P - turned Q| <= 2 reach + both slacks. None: no turn can.
    std::optional<Range> range_of(double reach_mm) const {
        // Rounding of the places must not shut out the very turn that fits.
        constexpr double dust_mm = 1e-9;
        const std::size_t a = farthest_from({}), b = farthest_from(first(a));
        const Point p = first(b) - first(a), q = second(b) - second(a);
        const double apart_mm =
            std::max(0.0, 2.0 * reach_mm + pairs_[a].slack_mm + pairs_[b].slack_mm) + dust_mm;
        const double differ_mm = length(p) - length(q);
        const double rest = apart_mm * apart_mm - differ_mm * differ_mm;
        if (rest < 0.0) return {};
        const double half_sine = std::sqrt(rest / (4.0 * length(p) * length(q)));
        const double middle = plan::angle_between_rad(q, p);
        if (!(half_sine < 1.0)) return Range{middle - pi, middle + pi};
        const double half = 2.0 * std::asin(half_sine);
        return Range{middle - half, middle + half};
    }

    BoltFit fit_of(const Tried& tried) const {
        BoltFit fit;
        fit.turn_rad = std::remainder(tried.turn_rad, 2.0 * pi);
        fit.shift_mm = middle_first_ + tried.shift_mm - plan::turned(middle_second_, fit.turn_rad);
        fit.least_clearance_mm = std::numeric_limits<double>::infinity();
        for (const FastenerPair& pair : pairs_) {
            fit.clearances_mm.push_back(pair.slack_mm - length(pair.first_mm - laid(fit, pair.second_mm)));
            fit.least_clearance_mm = std::min(fit.least_clearance_mm, fit.clearances_mm.back());
        }
        for (std::size_t i = 0; i < pairs_.size(); ++i) {
            if (fit.clearances_mm[i] <= fit.least_clearance_mm + alike_mm) fit.deciding.push_back(i);
        }
        return fit;
    }

  private:
    Point first(std::size_t i) const { return pairs_[i].first_mm - middle_first_; }
    Point second(std::size_t i) const { return pairs_[i].second_mm - middle_second_; }
    std::size_t farthest_from(Point place) const {
        std::size_t farthest = 0;
        for (std::size_t i = 1; i < pairs_.size(); ++i) {
            if (length(first(i) - place) > length(first(farthest) - place)) farthest = i;
        }
        return farthest;
    }

    std::span<const FastenerPair> pairs_;
    std::vector<Miss> misses_;
    Point middle_first_, middle_second_;
};

/// Sets where in the stretch the greater of both ends' bounds is least: at an end, at the foot of a bound, or
/// where they cross.
void set_bound(Stretch& stretch) {
    const Sine &a = stretch.from.bound, &b = stretch.to.bound;
    const double from = stretch.from.turn_rad, to = stretch.to.turn_rad;
    stretch.bound_mm = std::numeric_limits<double>::infinity();
    const auto offer = [&](double turn) {
        // Whole turns bring an angle of atan2 into the stretch.
        turn += 2.0 * pi * std::ceil((from - turn) / (2.0 * pi));
        if (!(turn <= to)) return;
        const double here_mm = std::max(a.at(turn), b.at(turn));
        if (here_mm < stretch.bound_mm) stretch.bound_mm = here_mm, stretch.at_rad = turn;
    };
    offer(from);
    offer(to);
    offer(std::atan2(a.sine, a.cosine));
    offer(std::atan2(b.sine, b.cosine));
    const double cosine = a.cosine - b.cosine, sine = a.sine - b.sine, size = std::hypot(cosine, sine);
    const double share = (a.constant - b.constant) / size;
    if (!(std::abs(share) <= 1.0)) return;
    offer(std::atan2(sine, cosine) + std::acos(share));
    offer(std::atan2(sine, cosine) - std::acos(share));
}

/// Narrows a range of turns until the bounds meet the best.
class Search {
  public:
    Search(Patterns& patterns, const Tried& start, Range range) : patterns_(patterns), best_(start) {
        std::vector<Tried> tried{patterns.at(range.from)};
        const double start_rad = range.from + std::remainder(start.turn_rad - range.from - pi, 2.0 * pi) + pi;
        if (start_rad > range.from && start_rad < range.to) tried.push_back(start);
        if (tried.size() > 1) tried.back().turn_rad = start_rad;
        tried.push_back(patterns.at(range.to));
        for (std::size_t i = 0; i < tried.size(); ++i) {
            if (tried[i].reach_mm < best_.reach_mm) best_ = tried[i];
            if (i > 0) add({tried[i - 1], tried[i], 0.0, 0.0});
        }
    }

    const Tried& best() const { return best_; }
    double bound_mm() const { return stretches_[worst()].bound_mm; }

    /// Works out the turn where the bound is least; false where the stretch has no room for one.
    bool step() {
        const std::size_t at = worst();
        const Stretch stretch = stretches_[at];
        const bool at_end = stretch.at_rad <= stretch.from.turn_rad || stretch.at_rad >= stretch.to.turn_rad;
        if (at_end || stretches_.size() > most_turns) return false;
        const Tried middle = patterns_.at(stretch.at_rad);
        if (middle.reach_mm < best_.reach_mm) best_ = middle;
        stretches_.erase(stretches_.begin() + std::ptrdiff_t(at));
        add({stretch.from, middle, 0.0, 0.0});
        add({middle, stretch.to, 0.0, 0.0});
        return true;
    }

  private:
    void add(Stretch stretch) {
        set_bound(stretch);
        stretches_.push_back(stretch);
    }
    std::size_t worst() const {
        return std::size_t(
            std::min_element(stretches_.begin(), stretches_.end(),
                             [](const Stretch& a, const Stretch& b) { return a.bound_mm < b.bound_mm; }) -
            stretches_.begin());
    }

    Patterns& patterns_;
    Tried best_;
    std::vector<Stretch> stretches_;
};

std::vector<FastenerPair> with_slack(std::span<const FastenerPair> pairs, std::span<const std::size_t> opened,
                                     double more_mm) {
    std::vector<FastenerPair> result(pairs.begin(), pairs.end());
    for (const std::size_t i : opened) result[i].slack_mm += more_mm;
    return result;
}

/// The least slack more, at these fasteners only, that makes all bolt up; none where no slack does.
std::optional<double> least_opening_mm(std::span<const FastenerPair> pairs,
                                       std::span<const std::size_t> opened, double at_most_mm) {
    double low = 0.0, high = at_most_mm;
    if (!bolts_up(with_slack(pairs, opened, high))) return {};
    while (high - low > bolting_exact_mm) {
        const double middle = (low + high) / 2.0;
        (bolts_up(with_slack(pairs, opened, middle)) ? high : low) = middle;
    }
    return high;
}

/// Slack that lets any two places of the patterns lie on one another.
double any_slack_mm(std::span<const FastenerPair> pairs) {
    double size_mm = 1.0;
    for (const FastenerPair& pair : pairs)
        size_mm = std::max({size_mm, length(pair.first_mm - pairs.front().first_mm),
                            length(pair.second_mm - pairs.front().second_mm)});
    return 4.0 * size_mm;
}

void open_some(std::span<const FastenerPair> pairs, const BoltFit& fit, Openings& result) {
    result.some = fit.deciding;
    const double most_mm = any_slack_mm(pairs);
    for (;;) {
        if (const auto more_mm = least_opening_mm(pairs, result.some, most_mm)) {
            result.some_mm = 2.0 * *more_mm;
            return;
        }
        const BoltFit rest = best_fit(with_slack(pairs, result.some, most_mm));
        result.some.insert(result.some.end(), rest.deciding.begin(), rest.deciding.end());
        std::sort(result.some.begin(), result.some.end());
        result.some.erase(std::unique(result.some.begin(), result.some.end()), result.some.end());
    }
}

void open_one(std::span<const FastenerPair> pairs, Openings& result) {
    double most_mm = any_slack_mm(pairs);
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        const std::size_t one[]{i};
        const auto more_mm = least_opening_mm(pairs, one, most_mm);
        if (!more_mm) continue;
        most_mm = *more_mm;
        result.one = i;
        result.one_mm = 2.0 * *more_mm;
    }
}

}  // namespace

plan::Point laid(const BoltFit& fit, plan::Point second_mm) {
    return plan::turned(second_mm, fit.turn_rad) + fit.shift_mm;
}

BoltFit best_fit(std::span<const FastenerPair> pairs) {
    Patterns patterns(pairs);
    Tried start = patterns.at(patterns.least_squares_turn());
    const auto range = patterns.range_of(start.reach_mm);
    if (!range || pairs.size() < 2) return patterns.fit_of(start);
    Search search(patterns, start, *range);
    while (search.best().reach_mm - search.bound_mm() > close_mm && search.step()) {
    }
    BoltFit fit = patterns.fit_of(search.best());
    fit.certain_within_mm = std::max(0.0, -fit.least_clearance_mm - search.bound_mm());
    return fit;
}

bool bolts_up(std::span<const FastenerPair> pairs) {
    Patterns patterns(pairs);
    const Tried start = patterns.at(patterns.least_squares_turn());
    if (start.reach_mm <= bolting_exact_mm) return true;
    const auto range = patterns.range_of(bolting_exact_mm);
    if (!range || pairs.size() < 2) return false;
    Search search(patterns, start, *range);
    while (search.best().reach_mm > bolting_exact_mm && search.bound_mm() <= bolting_exact_mm &&
           search.step()) {
    }
    return search.best().reach_mm <= bolting_exact_mm;
}

Openings openings(std::span<const FastenerPair> pairs, const BoltFit& fit) {
    Openings result;
    if (fit.possible()) return result;
    result.all_alike_mm = -2.0 * fit.least_clearance_mm;
    open_some(pairs, fit, result);
    open_one(pairs, result);
    return result;
}

}  // namespace fitup::calculations
