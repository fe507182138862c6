#include "calculations/enclosing.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "plan/vector.hpp"

// A set of at most three misses holds the best shift. Beginning with one, the miss that is served worst is
// taken in and the set worked out anew among the four; the reach grows with every exchange, so none comes
// twice.
namespace fitup::calculations {

namespace {

using plan::cross;
using plan::dot;
using plan::length;
using plan::Point;

/// Rounding of coordinates of the size of a part, over their size.
constexpr double rounding = 4e-16;
/// Far above the exchanges that any set needs; ends the walk where rounding would turn it in a circle.
constexpr int most_exchanges = 1000;

double reach_of(const Miss& miss, Point shift) { return length(miss.by_mm - shift) - miss.slack_mm; }

Enclosing held_by_one(std::span<const Miss> misses, std::size_t a) {
    Enclosing one;
    one.shift_mm = misses[a].by_mm;
    one.reach_mm = -misses[a].slack_mm;
    one.count = 1;
    one.held_by = {a};
    one.weight = {1.0};
    return one;
}

/// None where one of the two is served wherever the other is.
std::optional<Enclosing> held_by_two(std::span<const Miss> misses, std::size_t a, std::size_t b) {
    const Point between = misses[b].by_mm - misses[a].by_mm;
    const double apart_mm = length(between);
    Enclosing two;
    two.reach_mm = (apart_mm - misses[a].slack_mm - misses[b].slack_mm) / 2.0;
    const double from_a_mm = two.reach_mm + misses[a].slack_mm;
    if (apart_mm == 0.0 || from_a_mm < 0.0 || from_a_mm > apart_mm) return {};
    const Point along = between * (1.0 / apart_mm);
    two.shift_mm = misses[a].by_mm + along * from_a_mm;
    two.count = 2;
    two.held_by = {a, b};
    two.towards = {along * -1.0, along};
    two.weight = {0.5, 0.5};
    return two;
}

/// Weights that make the vectors cancel; false where no positive ones do.
bool balance(Enclosing& three) {
    const auto& u = three.towards;
    const std::array<double, 3> raw{cross(u[1], u[2]), cross(u[2], u[0]), cross(u[0], u[1])};
    const double sum = raw[0] + raw[1] + raw[2];
    if (sum == 0.0) return false;
    for (std::size_t k = 0; k < 3; ++k) three.weight[k] = raw[k] / sum;
    return std::all_of(three.weight.begin(), three.weight.end(), [](double weight) { return weight >= 0.0; });
}

/// Both r with |p + q r| = r; not finite where there is none.
std::array<double, 2> same_distances(Point p, Point q) {
    const double a = dot(q, q) - 1.0, half_b = dot(p, q), c = dot(p, p);
    const double big = -(half_b + std::copysign(std::sqrt(half_b * half_b - a * c), half_b));
    return {c / big, big / a};
}

/// Two misses as seen from a first one.
struct Others {
    std::array<Point, 2> at{};
    std::array<double, 2> slack_mm{};  ///< less that of the first
};

Enclosing at_shift(const Miss& first, const Others& others, std::array<std::size_t, 3> at, Point x,
                   double r) {
    Enclosing three;
    three.shift_mm = first.by_mm + x;
    three.reach_mm = r - first.slack_mm;
    three.count = 3;
    three.held_by = at;
    three.towards = {plan::unit(x * -1.0), plan::unit(others.at[0] - x), plan::unit(others.at[1] - x)};
    return three;
}

/// The shift at the same reach from all three. With x from the first miss and r = reach + its slack:
/// |x| = r and |x - e| = r + s for the two others, so that e . x = (e^2 - s^2) / 2 - s r is linear, and x = p
/// + q r in |x| = r a quadratic of r.
std::optional<Enclosing> held_by_three(std::span<const Miss> misses, std::array<std::size_t, 3> at) {
    const Miss& first = misses[at[0]];
    Others others;
    for (std::size_t k = 0; k < 2; ++k) {
        others.at[k] = misses[at[k + 1]].by_mm - first.by_mm;
        others.slack_mm[k] = misses[at[k + 1]].slack_mm - first.slack_mm;
    }
    const auto& [e, s] = others;
    const double area = cross(e[0], e[1]);
    const auto solve = [&](double c0, double c1) {
        return Point{(c0 * e[1].y_mm - c1 * e[0].y_mm) / area, (c1 * e[0].x_mm - c0 * e[1].x_mm) / area};
    };
    const Point p = solve((dot(e[0], e[0]) - s[0] * s[0]) / 2.0, (dot(e[1], e[1]) - s[1] * s[1]) / 2.0);
    const Point q = solve(-s[0], -s[1]);
    std::optional<Enclosing> best;
    for (const double r : same_distances(p, q)) {
        if (!std::isfinite(r) || r <= 0.0 || r + s[0] <= 0.0 || r + s[1] <= 0.0) continue;
        Enclosing three = at_shift(first, others, at, p + q * r, r);
        if ((!best || three.reach_mm < best->reach_mm) && balance(three)) best = three;
    }
    return best;
}

/// The best shift of a few misses, known to be held by the newest of them: the least reach of one, two or
/// three that serves all of them.
class BestOfFew {
  public:
    BestOfFew(std::span<const Miss> misses, const Enclosing& before, std::size_t newest, double exact_mm)
        : misses_(misses), count_(before.count + 1), exact_mm_(exact_mm) {
        few_[0] = newest;
        for (std::size_t k = 0; k < before.count; ++k) few_[k + 1] = before.held_by[k];
    }

    Enclosing find() {
        offer(held_by_one(misses_, few_[0]));
        for (std::size_t i = 1; i < count_; ++i) offer(held_by_two(misses_, few_[0], few_[i]));
        for (std::size_t i = 1; i < count_; ++i) {
            for (std::size_t j = i + 1; j < count_; ++j)
                offer(held_by_three(misses_, {few_[0], few_[i], few_[j]}));
        }
        return best_;
    }

  private:
    void offer(const std::optional<Enclosing>& one) {
        if (!one || least_worst_mm_ <= exact_mm_) return;
        double worst_mm = 0.0;
        for (std::size_t k = 0; k < count_; ++k)
            worst_mm = std::max(worst_mm, reach_of(misses_[few_[k]], one->shift_mm) - one->reach_mm);
        if (worst_mm >= least_worst_mm_) return;
        least_worst_mm_ = worst_mm;
        best_ = *one;
    }

    std::span<const Miss> misses_;
    std::array<std::size_t, 4> few_{};
    std::size_t count_;
    double exact_mm_;
    Enclosing best_;
    double least_worst_mm_ = std::numeric_limits<double>::infinity();
};

std::size_t served_worst(std::span<const Miss> misses, Point shift) {
    std::size_t worst = 0;
    double most_mm = -std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < misses.size(); ++i) {
        const double here_mm = reach_of(misses[i], shift);
        if (here_mm <= most_mm) continue;
        most_mm = here_mm;
        worst = i;
    }
    return worst;
}

}  // namespace

Enclosing smallest_reach(std::span<const Miss> misses) {
    double size_mm = 0.0;
    for (const Miss& miss : misses)
        size_mm = std::max({size_mm, std::abs(miss.by_mm.x_mm), std::abs(miss.by_mm.y_mm), miss.slack_mm});
    const double exact_mm = 8.0 * rounding * size_mm;
    const auto least = std::min_element(misses.begin(), misses.end(),
                                        [](const Miss& a, const Miss& b) { return a.slack_mm < b.slack_mm; });
    Enclosing held = held_by_one(misses, std::size_t(least - misses.begin()));
    for (int i = 0; i < most_exchanges; ++i) {
        const std::size_t worst = served_worst(misses, held.shift_mm);
        if (reach_of(misses[worst], held.shift_mm) <= held.reach_mm + exact_mm) break;
        const Enclosing next = BestOfFew(misses, held, worst, exact_mm).find();
        if (next.reach_mm <= held.reach_mm) break;
        held = next;
    }
    return held;
}

}  // namespace fitup::calculations
