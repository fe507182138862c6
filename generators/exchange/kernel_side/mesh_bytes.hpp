#pragma once

#include <string>
#include <string_view>

#include "mesh/mesh.hpp"

namespace fitup::exchange {

/// A mesh as bytes, for another process on this machine; not a file format.
std::string to_bytes(const mesh::Mesh& mesh);
/// @param bytes  from `to_bytes`
mesh::Mesh mesh_from(std::string_view bytes);

}  // namespace fitup::exchange
