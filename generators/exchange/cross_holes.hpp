#pragma once

#include "exchange/measurement.hpp"

namespace fitup::exchange {

/// Adds a row for each hole from the side of the plan, and one for each round hole square to Z that the file
/// has beyond them.
///
/// @param is_mesh  a hole of which a mesh has no plain run of facets is then not measured rather than missing
void compare_cross_holes(Comparison& comparison, const plan::Plan& plan, const Measurement& found,
                         double within_mm, bool is_mesh);

}  // namespace fitup::exchange
