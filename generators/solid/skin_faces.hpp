#pragma once

#include <TopoDS_Face.hxx>
#include <vector>

#include "plan/skin.hpp"
#include "solid/rims.hpp"

/// The faces of a skin, normals outward, joined to one another by the edges of `rims`.
namespace fitup::solid {

std::vector<TopoDS_Face> wall_faces(Rims& rims, const plan::Wall& wall);
TopoDS_Face floor_face(Rims& rims, const plan::Floor& floor);
/// @throws KernelError where the two contours are not offsets of each other.
std::vector<TopoDS_Face> slope_faces(Rims& rims, const plan::Slope& slope);

}  // namespace fitup::solid
