#pragma once

#include <string>
#include <vector>

#include "plan/plan.hpp"

namespace fitup::sheets {

/// A drawing's scale: page over part.
struct Scale {
    double factor = 1.0;
    std::string text;  ///< "1:2.5"
};

/// From the largest on: the steps of ISO 5455 and the 2.5 that shops use between them; in inches halves,
/// quarters and so on (ASME Y14.1 names no series; common practice, no source).
const std::vector<Scale>& scales(plan::Units units);

}  // namespace fitup::sheets
