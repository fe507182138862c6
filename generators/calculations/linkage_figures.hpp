#pragma once

#include "calculations/linkage_result.hpp"
#include "plan/work.hpp"

namespace fitup::calculations {

/// The result object's own keys, in order: solved, positions, worst_margin_deg, set, outside, ends,
/// influences, builds and so on. Millimetres and degrees.
plan::Work linkage_figures(const LinkageResult& result);

}  // namespace fitup::calculations
