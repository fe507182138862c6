#include "calculations/laying.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using plan::Point;

/// Distances under this weigh no more: far below what can be measured.
constexpr double least_distance_mm = 1e-7;
constexpr double still_mm = 1e-11;
constexpr int most_rounds = 1000;

/// Weighted least squares in closed form: the turn that lays the second places' spread on the first's about
/// their weighted means.
Laying weighted(std::span<const FastenerPair> pairs, const std::vector<double>& weights) {
    double sum = 0.0;
    Point first, second;
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        sum += weights[i];
        first = first + pairs[i].first_mm * weights[i];
        second = second + pairs[i].second_mm * weights[i];
    }
    first = first * (1.0 / sum);
    second = second * (1.0 / sum);
    double along = 0.0, across = 0.0;
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        const Point p = pairs[i].first_mm - first, q = pairs[i].second_mm - second;
        along += weights[i] * plan::dot(q, p);
        across += weights[i] * plan::cross(q, p);
    }
    const double turn = along == 0.0 && across == 0.0 ? 0.0 : std::atan2(across, along);
    return {turn, first - plan::turned(second, turn)};
}

/// Sets the weights from the distances; returns the most that a weight's distance changed.
double weigh(std::span<const FastenerPair> pairs, const Laying& laying, std::vector<double>& weights) {
    double changed_mm = 0.0;
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        const double distance_mm = plan::length(pairs[i].first_mm - laid(laying, pairs[i].second_mm));
        const double weight = 1.0 / std::max(least_distance_mm, distance_mm);
        changed_mm = std::max(changed_mm, std::abs(1.0 / weight - 1.0 / weights[i]));
        weights[i] = weight;
    }
    return changed_mm;
}

}  // namespace

Point laid(const Laying& laying, Point second_mm) {
    return plan::turned(second_mm, laying.turn_rad) + laying.shift_mm;
}

Laying least_sum_laying(std::span<const FastenerPair> pairs) {
    std::vector<double> weights(pairs.size(), 1.0);
    Laying laying = weighted(pairs, weights);
    for (int i = 0; i < most_rounds && weigh(pairs, laying, weights) > still_mm; ++i)
        laying = weighted(pairs, weights);
    return laying;
}

}  // namespace fitup::calculations
