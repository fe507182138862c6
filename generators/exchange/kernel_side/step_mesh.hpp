#pragma once

#include <string>
#include <string_view>

#include "mesh/mesh.hpp"

namespace fitup::exchange {

/// @see Kernel::step_mesh
mesh::Mesh step_mesh(std::string_view text, const std::string& name, const mesh::Fineness& fineness);

}  // namespace fitup::exchange
