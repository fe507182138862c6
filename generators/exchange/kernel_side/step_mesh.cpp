#include "exchange/kernel_side/step_mesh.hpp"

#include <cstring>

#include "base/error.hpp"
#include "exchange/kernel_side/solid_mesh.hpp"
#include "exchange/kernel_side/step_reading.hpp"

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

std::string bytes_of(const mesh::Mesh& mesh) {
    std::string bytes;
    append(bytes, mesh.vertices);
    append(bytes, mesh.triangles);
    return bytes;
}

}  // namespace

mesh::Mesh step_mesh(std::string_view text, const std::string& name, const mesh::Fineness& fineness) {
    StepReading reading(text, name, [&](const StepContent& content) {
        return bytes_of(mesh_of_shape(content.shape, fineness));
    });
    const std::string bytes = reading.finish();
    mesh::Mesh mesh;
    take(take(std::string_view(bytes), mesh.vertices), mesh.triangles);
    if (mesh.triangles.empty()) throw FileError(name, "it holds no surface");
    return mesh;
}

}  // namespace fitup::exchange
