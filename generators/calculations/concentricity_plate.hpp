#pragma once

#include "calculations/concentricity.hpp"

namespace fitup::calculations {

/// Adds what a plate lets its two sides stand off each other: on each side the closest of its registers, bore
/// and dowels with a known clearance; what locates less closely there is named in `looser`.
void add_plate(const plan::Plan& plate, Concentricity& asked);

}  // namespace fitup::calculations
