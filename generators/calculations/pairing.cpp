#include "calculations/pairing.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using plan::length;
using plan::Point;

/// Two distances are about the same within the slacks and this share of them: a pattern that is further off
/// has other faults than its numbers.
constexpr double about_share = 0.03;
/// One fit is better than another by more than this.
constexpr double better_mm = 1e-9;

std::size_t farthest(std::span<const Point> places, Point from) {
    std::size_t best = 0;
    for (std::size_t i = 1; i < places.size(); ++i) {
        if (length(places[i] - from) > length(places[best] - from)) best = i;
    }
    return best;
}

std::size_t nearest(std::span<const Point> places, Point to) {
    std::size_t best = 0;
    for (std::size_t i = 1; i < places.size(); ++i) {
        if (length(places[i] - to) < length(places[best] - to)) best = i;
    }
    return best;
}

class PairingSearch {
  public:
    PairingSearch(std::span<const Point> first, std::vector<Point> second, std::span<const double> slacks_mm)
        : first_(first), second_(std::move(second)), slacks_mm_(slacks_mm) {
        a_ = farthest(first_, first_.front());
        b_ = farthest(first_, first_[a_]);
    }

    std::optional<Pairing> run() {
        const double apart_mm = length(first_[b_] - first_[a_]);
        const double within_mm = slacks_mm_[a_] + slacks_mm_[b_] + about_share * apart_mm;
        for (std::size_t c = 0; c < second_.size(); ++c) {
            for (std::size_t d = 0; d < second_.size(); ++d) {
                const double other_mm = length(second_[d] - second_[c]);
                if (c != d && other_mm > 0.0 && std::abs(other_mm - apart_mm) <= within_mm) lay(c, d);
            }
        }
        return std::move(best_);
    }

  private:
    /// The middle of c and d comes on that of a and b, their direction on theirs.
    void lay(std::size_t c, std::size_t d) {
        const double turn = plan::angle_between_rad(second_[d] - second_[c], first_[b_] - first_[a_]);
        const Point from = (second_[c] + second_[d]) * 0.5, to = (first_[a_] + first_[b_]) * 0.5;
        std::vector<Point> images;
        for (const Point& place : second_) images.push_back(to + plan::turned(place - from, turn));
        std::vector<std::size_t> second_of;
        std::vector<bool> taken(second_.size(), false);
        for (const Point& place : first_) {
            second_of.push_back(nearest(images, place));
            if (taken[second_of.back()]) return;
            taken[second_of.back()] = true;
        }
        offer(std::move(second_of));
    }

    static std::size_t in_order(const std::vector<std::size_t>& second_of) {
        std::size_t count = 0;
        for (std::size_t i = 0; i < second_of.size(); ++i) count += second_of[i] == i ? 1 : 0;
        return count;
    }

    void offer(std::vector<std::size_t> second_of) {
        if (best_ && best_->second_of == second_of) return;
        std::vector<FastenerPair> pairs;
        for (std::size_t i = 0; i < first_.size(); ++i)
            pairs.push_back({first_[i], second_[second_of[i]], slacks_mm_[i]});
        BoltFit fit = best_fit(pairs);
        const double gain_mm =
            best_ ? fit.least_clearance_mm - best_->fit.least_clearance_mm : 2.0 * better_mm;
        const bool better =
            gain_mm > better_mm || (gain_mm > -better_mm && in_order(second_of) > in_order(best_->second_of));
        if (better) best_ = Pairing{std::move(second_of), false, std::move(fit)};
    }

    std::span<const Point> first_;
    std::vector<Point> second_;
    std::span<const double> slacks_mm_;
    std::size_t a_ = 0, b_ = 0;
    std::optional<Pairing> best_;
};

}  // namespace

std::optional<Pairing> find_pairing(std::span<const Point> first, std::span<const Point> second,
                                    std::span<const double> slacks_mm, bool mirrored) {
    if (first.size() != second.size() || first.size() < 2 || first.size() > most_paired) return {};
    std::vector<Point> seen(second.begin(), second.end());
    if (mirrored) {
        for (Point& place : seen) place.x_mm = -place.x_mm;
    }
    auto best = PairingSearch(first, std::move(seen), slacks_mm).run();
    if (best) best->mirrored = mirrored;
    return best;
}

std::vector<FastenerPair> paired(std::span<const Point> first, std::span<const Point> second,
                                 std::span<const double> slacks_mm) {
    std::vector<FastenerPair> pairs;
    for (std::size_t i = 0; i < first.size(); ++i) pairs.push_back({first[i], second[i], slacks_mm[i]});
    return pairs;
}

}  // namespace fitup::calculations
