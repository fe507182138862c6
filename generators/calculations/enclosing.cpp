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

/// The shift at the same reach from all three. With x from the first miss and r = reach + its slack:
/// |x| = r and |x - e| = r + s for the two others, so that e . x = (e^2 - s^2) / 2 - s r is linear, and x = p
/// + q r in |x| = r a quadratic of r.
std::optional<Enclosing> held_by_three(std::span<const Miss> misses, std::array<std::size_t, 3> at) {
    const Miss& first = misses[at[0]];
    const Point e1 = misses[at[1]].by_mm - first.by_mm, e2 = misses[at[2]].by_mm - first.by_mm;
    const double s1 = misses[at[1]].slack_mm - first.slack_mm, s2 = misses[at[2]].slack_mm - first.slack_mm;
    const double area = cross(e1, e2);
    if (area == 0.0) return {};
    const auto solve = [&](double c1, double c2) {
        return Point{(c1 * e2.y_mm - c2 * e1.y_mm) / area, (c2 * e1.x_mm - c1 * e2.x_mm) / area};
    };
    const Point p = solve((dot(e1, e1) - s1 * s1) / 2.0, (dot(e2, e2) - s2 * s2) / 2.0);
    const Point q = solve(-s1, -s2);
    const double a = dot(q, q) - 1.0, half_b = dot(p, q), c = dot(p, p);
    const double rest = half_b * half_b - a * c;
    if (rest < 0.0) return {};
    const double big = -(half_b + std::copysign(std::sqrt(rest), half_b));
    std::optional<Enclosing> best;
    for (const double r : {c / big, big / a}) {
        if (!std::isfinite(r) || r <= 0.0 || r + s1 <= 0.0 || r + s2 <= 0.0) continue;
        Enclosing three;
        three.reach_mm = r - first.slack_mm;
        if (best && best->reach_mm <= three.reach_mm) continue;
        const Point x = p + q * r;
        three.shift_mm = first.by_mm + x;
        three.count = 3;
        three.held_by = at;
        const std::array<Point, 3> to{x * -1.0, e1 - x, e2 - x};
        for (std::size_t k = 0; k < 3; ++k) three.towards[k] = plan::unit(to[k]);
        if (balance(three)) best = three;
    }
    return best;
}

/// The best shift of a few misses, known to be held by the newest of them: the least reach of one, two or
/// three that serves all of them.
Enclosing best_of_few(std::span<const Miss> misses, const Enclosing& before, std::size_t newest,
                      double exact_mm) {
    std::array<std::size_t, 4> few{newest};
    for (std::size_t k = 0; k < before.count; ++k) few[k + 1] = before.held_by[k];
    const std::size_t count = before.count + 1;
    Enclosing best;
    double least_worst = std::numeric_limits<double>::infinity();
    const auto offer = [&](const std::optional<Enclosing>& one) {
        if (!one || least_worst <= exact_mm) return;
        double worst = 0.0;
        for (std::size_t k = 0; k < count; ++k)
            worst = std::max(worst, reach_of(misses[few[k]], one->shift_mm) - one->reach_mm);
        if (worst >= least_worst) return;
        least_worst = worst;
        best = *one;
    };
    offer(held_by_one(misses, newest));
    for (std::size_t i = 1; i < count; ++i) offer(held_by_two(misses, newest, few[i]));
    for (std::size_t i = 1; i < count; ++i) {
        for (std::size_t j = i + 1; j < count; ++j) offer(held_by_three(misses, {newest, few[i], few[j]}));
    }
    return best;
}

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
        const Enclosing next = best_of_few(misses, held, worst, exact_mm);
        if (next.reach_mm <= held.reach_mm) break;
        held = next;
    }
    return held;
}

}  // namespace fitup::calculations
