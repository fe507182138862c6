#include "exchange/kernel_side/mesh_bytes.hpp"

#include <cstring>

namespace fitup::exchange {
namespace {

template <typename Item>
void append(std::string& bytes, const std::vector<Item>& items) {
    const std::size_t count = items.size();
    bytes.append(reinterpret_cast<const char*>(&count), sizeof count);
    bytes.append(reinterpret_cast<const char*>(items.data()), count * sizeof(Item));
}

/// @returns what is left of the bytes
template <typename Item>
std::string_view take(std::string_view bytes, std::vector<Item>& items) {
    std::size_t count = 0;
    std::memcpy(&count, bytes.data(), sizeof count);
    items.resize(count);
    std::memcpy(items.data(), bytes.data() + sizeof count, count * sizeof(Item));
    return bytes.substr(sizeof count + count * sizeof(Item));
}

}  // namespace

std::string to_bytes(const mesh::Mesh& mesh) {
    std::string bytes;
    append(bytes, mesh.vertices);
    append(bytes, mesh.triangles);
    return bytes;
}

mesh::Mesh mesh_from(std::string_view bytes) {
    mesh::Mesh mesh;
    take(take(bytes, mesh.vertices), mesh.triangles);
    return mesh;
}

}  // namespace fitup::exchange
