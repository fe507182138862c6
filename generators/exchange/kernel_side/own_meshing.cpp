#include "base/error.hpp"
#include "exchange/kernel_side/mesh_bytes.hpp"
#include "exchange/kernel_side/solid_mesh.hpp"
#include "exchange/own_process.hpp"

namespace fitup::exchange {
namespace {

constexpr char done = 'd';
constexpr char failed = 'f';
/// A solid with thousands of faces takes a minute; this ends only what has gone astray.
constexpr unsigned most_seconds = 7200;

/// The triangles, or why there are none; nothing is thrown.
std::string meshed_bytes(const solid::Solid& solid, const mesh::Fineness& fineness) {
    try {
        return done + to_bytes(mesh_of_solid(solid, fineness));
    } catch (const Error& error) {
        return failed + std::string(error.what());
    } catch (...) {
        return failed + std::string("the mesh of the solid can't be made");
    }
}

class OwnMeshing final : public Meshing {
  public:
    OwnMeshing(const solid::Solid& solid, const mesh::Fineness& fineness)
        : process_([&] { return meshed_bytes(solid, fineness); }, most_seconds) {}

    mesh::Mesh finish() override {
        const Ending ending = process_.finish();
        if (ending.how != Ending::How::done || ending.bytes.empty())
            throw KernelError("meshing the solid ended before it was done");
        if (ending.bytes.front() == failed) throw KernelError(ending.bytes.substr(1));
        return mesh_from(std::string_view(ending.bytes).substr(1));
    }

  private:
    OwnProcess process_;
};

}  // namespace

std::unique_ptr<Meshing> start_mesh_of_solid(const solid::Solid& solid, const mesh::Fineness& fineness) {
    return std::make_unique<OwnMeshing>(solid, fineness);
}

}  // namespace fitup::exchange
