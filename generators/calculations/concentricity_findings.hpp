#pragma once

#include "calculations/concentricity.hpp"

namespace fitup::calculations {

/// What is to be said: budgets over the limit and what would meet it, readings that don't agree, a part not
/// yet true.
plan::Findings concentricity_findings(const ConcentricityResult& result);

/// "0.185 mm (0.0073 in) offset, 0.37 mm (0.0146 in) reading": always both.
std::string offset_and_reading(double offset_mm);

/// "0.05 mm (0.002 in) right (towards 3) and 0.02 mm (..) down (towards 6)"; "nowhere" for less than 0.0005.
std::string move_text(const std::array<double, 2>& move_mm);

}  // namespace fitup::calculations
