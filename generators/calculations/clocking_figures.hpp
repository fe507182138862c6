#pragma once

#include "calculations/clocking.hpp"
#include "plan/work.hpp"

namespace fitup::calculations {

/// The result object's own keys, in order: best_deg, least_web_mm, passes and so on. Millimetres and degrees.
plan::Work clocking_figures(const ClockingResult& result);

}  // namespace fitup::calculations
