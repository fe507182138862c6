#pragma once

#include "calculations/concentricity.hpp"
#include "sheets/drawing.hpp"

namespace fitup::sheets {

/// The budget as bars end to end, worst case and root-sum-square against the limit, as offset and as reading;
/// beside it the readings on a clock face with the way to move.
Drawing concentricity_chart(const calculations::ConcentricityResult& result);

}  // namespace fitup::sheets
