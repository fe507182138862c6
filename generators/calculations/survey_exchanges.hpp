#pragma once

#include <optional>

#include "calculations/survey_network.hpp"

namespace fitup::calculations {

/// Coordinates of two points written at each other's ids, or x and y of one point in each other's place:
/// suspects, all explained by it, where this alone makes every reading pass and no other such exchange does
/// as well.
std::optional<std::vector<Suspect>> exchange_of(const Survey& survey, const Network& network, double critical,
                                                const std::vector<std::vector<plan::Point>>& starts);

}  // namespace fitup::calculations
