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

/// Triangles on a shape's faces, watertight or not. Inside a kernel call.
mesh::Mesh mesh_of_shape(const TopoDS_Shape& shape, const mesh::Fineness& fineness);

}  // namespace fitup::exchange
