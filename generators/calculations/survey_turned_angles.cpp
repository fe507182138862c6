#include "calculations/survey_turned_angles.hpp"

#include <algorithm>

#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

/// Holes nearer than this share of the survey's size don't have a place of their own.
constexpr double one_place_share = 0.02;

bool is_crowded(const Network& network, const std::vector<plan::Point>& at) {
    const double least_mm = one_place_share * extent_mm(network);
    for (std::size_t a = 0; a < at.size(); ++a)
        for (std::size_t b = a + 1; b < at.size(); ++b)
            if (plan::distance_mm(at[a], at[b]) < least_mm) return true;
    return false;
}

}  // namespace

std::optional<TurnedAngle> angle_to_turn(const Survey& survey, const Network& network,
                                         const Arrangement& arrangement) {
    if (!has_angles(network) || network.points >= great_from) return std::nullopt;
    if (!is_crowded(network, arrangement.settled.at_mm)) return std::nullopt;
    std::optional<TurnedAngle> found;
    for (std::size_t i = 0; i < network.seen.size(); ++i) {
        if (network.seen[i].quantity != Quantity::angle) continue;
        Network turned = network;
        turned.seen[i].value = -turned.seen[i].value;
        Arrangement other = arrange(survey, turned);
        const bool serves = agrees(other.settled.sum_of_squares, redundancy_of(network)) &&
                            other.troubles.empty() && !is_crowded(network, other.settled.at_mm);
        if (!serves) continue;
        if (found) return std::nullopt;
        other.starts.insert(other.starts.begin(), other.settled.at_mm);
        other.settled = settle(network, other.settled.at_mm);
        found = TurnedAngle{network.seen[i].reading, std::move(other)};
    }
    return found;
}

}  // namespace fitup::calculations
