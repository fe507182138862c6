#pragma once

#include <array>
#include <vector>

#include "sheets/cutting_line.hpp"
#include "sheets/metal_map.hpp"

namespace fitup::sheets {

/// Edges that are seen of what lies behind a plane square to the faces: level and upright ones, as their two
/// ends (X in the section view, height above face A). An edge is where the distance of what is seen jumps, or
/// its wall turns a corner. What the plane itself cuts is in front of all; its own outline is left out.
///
/// Cones count as many thin rings whose own edges are not drawn; lettering and holes from the side are left
/// out, and of holes that are wholly in metal nothing can be seen.
std::vector<std::array<plan::Point, 2>> edges_behind(const MetalMap& metal, const CutPiece& plane);

}  // namespace fitup::sheets
