#pragma once

#include "calculations/survey_network.hpp"

/// The usual slips that make a reading gross, tried on one that doesn't agree with the rest.
namespace fitup::calculations {

/// What the other readings give.
struct Expected {
    double value = 0.0;  ///< for the reading, reduced to centres; mm or rad
    double sigma = 0.0;  ///< of reading less value, doubt of both
    const std::vector<plan::Point>* at_mm = nullptr;
};

struct Blunder {
    std::string text;                 ///< what was read and what it would then be; "" for none
    std::optional<double> corrected;  ///< reduced to centres; none where two slips explain the reading
};

/// Inch for millimetre, pins, jaws, sign, digits, whole marks of a scale, ids. Named where the reading then
/// comes within three standard deviations of what is expected; "either .. or .." for two that differ, nothing
/// for more.
Blunder blunder_of(const Survey& survey, std::size_t reading, const Expected& expected);

}  // namespace fitup::calculations
