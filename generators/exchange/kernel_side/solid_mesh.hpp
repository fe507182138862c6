#pragma once

#include <memory>

#include "exchange/kernel.hpp"
#include "mesh/mesh.hpp"
#include "solid/solid_impl.hpp"

namespace fitup::exchange {

/// @see Kernel::mesh
mesh::Mesh mesh_of_solid(const solid::Solid& solid, const mesh::Fineness& fineness);

/// @see Kernel::start_mesh
std::unique_ptr<Meshing> start_mesh_of_solid(const solid::Solid& solid, const mesh::Fineness& fineness);

/// The shape with triangles on its faces. A copy: meshes stay in a shape, and a coarse one after a fine one
/// stays fine. Inside a kernel call.
TopoDS_Shape triangulated(const TopoDS_Shape& shape, const mesh::Fineness& fineness);

/// The triangles on a shape's faces as one mesh, watertight or not.
mesh::Mesh welded(const TopoDS_Shape& triangulated);

}  // namespace fitup::exchange
