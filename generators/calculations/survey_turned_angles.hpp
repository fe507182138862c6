#pragma once

#include <optional>

#include "calculations/survey_arrangement.hpp"

namespace fitup::calculations {

/// An arrangement in which one angle is read the other way round.
struct TurnedAngle {
    int reading = -1;
    Arrangement arrangement;  ///< of all readings as they are, from where the angle so turned puts the points
};

/// Where an arrangement puts two points to one place, the angle that alone has to be turned for every reading
/// to fit and every point to have a place of its own. Nothing where there is none, or more than one.
std::optional<TurnedAngle> angle_to_turn(const Survey& survey, const Network& network,
                                         const Arrangement& arrangement);

}  // namespace fitup::calculations
