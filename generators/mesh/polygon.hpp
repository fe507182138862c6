#pragma once

#include <vector>

#include "mesh/mesh.hpp"
#include "plan/contour.hpp"

namespace fitup::mesh {

/// The points that stand for a contour, anticlockwise, each exactly on the curve: from angle 0 of a circle,
/// from the start of a path. Arcs are split at quarter turns too, so that the polygon's box is the contour's.
std::vector<plan::Point> polygon_of(const plan::Contour& contour, const Fineness& fineness);

/// How many points polygon_of gives; a double, since an absurd fineness overflows an integer.
double count_of_points(const plan::Contour& contour, const Fineness& fineness);

}  // namespace fitup::mesh
