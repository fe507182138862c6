#include "exchange/kernel_side/step_mesh.hpp"

#include "base/error.hpp"
#include "exchange/kernel_side/mesh_bytes.hpp"
#include "exchange/kernel_side/solid_mesh.hpp"
#include "exchange/kernel_side/step_reading.hpp"

namespace fitup::exchange {
mesh::Mesh step_mesh(std::string_view text, const std::string& name, const mesh::Fineness& fineness) {
    StepReading reading(text, name, [&](const StepContent& content) {
        return to_bytes(mesh_of_shape(content.shape, fineness));
    });
    mesh::Mesh mesh = mesh_from(reading.finish());
    if (mesh.triangles.empty()) throw FileError(name, "it holds no surface");
    return mesh;
}

}  // namespace fitup::exchange
