#pragma once

#include "calculations/clocking.hpp"

namespace fitup::calculations {

/// What is to be said of a clocking: nothing passes, and why; what the plate's own rules say of the patterns
/// that turn once they are turned.
plan::Findings clocking_findings(const Clocking& clocking, const ClockingResult& result);

}  // namespace fitup::calculations
