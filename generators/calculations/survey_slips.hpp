#pragma once

#include "calculations/survey.hpp"

/// Every value that a usual slip would give back. Common practice, no source, but for trade-practice's list
/// of blunders: 25.4, one diameter, ids, sign, digits.
namespace fitup::calculations {

struct Slip {
    double value = 0.0;  ///< reduced to centres; mm or rad
    std::string text;
};

/// The likelier kinds first.
std::vector<Slip> slips_of(const Survey& survey, const Reading& reading);

}  // namespace fitup::calculations
