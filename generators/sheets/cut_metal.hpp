#pragma once

#include <vector>

#include "sheets/cutting_line.hpp"
#include "sheets/metal_map.hpp"

namespace fitup::sheets {

/// The metal in the planes of a cut: X as the line says, Y the height above face A. Where a cone or a lying
/// hole is cut beside its axis its curve is chords within 0.001 mm; all else is exact.
std::vector<plan::Area> cut_metal(const MetalMap& metal, const CuttingLine& line);

}  // namespace fitup::sheets
