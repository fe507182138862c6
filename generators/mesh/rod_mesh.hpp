#pragma once

#include "mesh/mesh.hpp"
#include "plan/plan.hpp"

namespace fitup::mesh {

/// Triangles that rod_mesh would make, without making them: at most a few rings too many.
std::size_t estimated_triangles(const plan::Rod& rod, const Fineness& fineness);

/// The closed mesh of a rod, straight from the plan: rings of points square to the centreline, strips between
/// neighbours. Modelled threads are left out: such a rod's mesh comes from its solid.
///
/// Every vertex lies on the true surface; no facet strays from it by more than the chord, and none turns by
/// more than the angle.
/// @throws Error over `most_triangles`.
/// REQUIRES: a sound rod (plan::rod_path). Cost: linear in triangles.
Mesh rod_mesh(const plan::Rod& rod, const Fineness& fineness);

}  // namespace fitup::mesh
