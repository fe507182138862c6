#pragma once

#include <vector>

#include "sheets/hole_list.hpp"

namespace fitup::sheets {

/// Holes drilled into the part's edge, in order of work: drilled, then tapped. The part lies on its other
/// edge: `x_mm` is X and `y_mm` the height above the underside at the pivot.
std::vector<HoleLine> edge_lines(const plan::Plan& plan);

}  // namespace fitup::sheets
