#pragma once

#include <vector>

#include "exchange/chains.hpp"
#include "exchange/measurement.hpp"

namespace fitup::exchange {

/// A cylinder in a mesh, and the facets that stand for it.
struct RoundWall {
    Cylinder cylinder;
    std::vector<std::uint32_t> facets;
    double sagitta_mm = 0.0;  ///< how far its facets are from the true surface
};

std::vector<RoundWall> round_walls(const Facets& facets);

/// Cones that begin where a full cylinder of `walls` ends: drill points, countersinks, broken edges.
std::vector<ConeFace> cones_beside(const Facets& facets, const std::vector<RoundWall>& walls);

/// Partial cylinders with the same axis, radius and range are one wall.
std::vector<Cylinder> joined(std::vector<Cylinder> cylinders, double within_mm);

}  // namespace fitup::exchange
