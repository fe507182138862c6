#pragma once

#include "calculations/concentricity.hpp"
#include "plan/work.hpp"

namespace fitup::calculations {

/// The keys of a concentricity's result object.
plan::Work concentricity_figures(const ConcentricityResult& result);

}  // namespace fitup::calculations
