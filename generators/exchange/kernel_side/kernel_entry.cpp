#include "exchange/kernel_side/solid_mesh.hpp"
#include "exchange/kernel_side/step_measure.hpp"
#include "exchange/kernel_side/step_surface.hpp"
#include "exchange/kernel_side/step_text.hpp"
#include "exchange/load_kernel.hpp"

namespace fitup::exchange {
namespace {

class OpenKernel final : public Kernel {
  public:
    solid::Built build(const plan::Plan& plan, const plan::SkinResult& skin) const override {
        return solid::build(plan, skin);
    }
    mesh::Mesh mesh(const solid::Solid& solid, const mesh::Fineness& fineness) const override {
        return mesh_of_solid(solid, fineness);
    }
    std::unique_ptr<Meshing> start_mesh(const solid::Solid& solid,
                                        const mesh::Fineness& fineness) const override {
        return start_mesh_of_solid(solid, fineness);
    }
    std::string step_text(const solid::Solid& solid, const plan::Plan& plan,
                          const StepOptions& options) const override {
        return exchange::step_text(solid, plan, options);
    }
    std::unique_ptr<Measuring> start_measuring(std::string_view text,
                                               const std::string& name) const override {
        return exchange::start_measuring(text, name);
    }
    SurfaceMesh step_surface(std::string_view text, const std::string& name,
                             double within_mm) const override {
        return exchange::step_surface(text, name, within_mm);
    }
};

}  // namespace
}  // namespace fitup::exchange

extern "C" const fitup::exchange::Kernel* fitup_kernel() {
    static const fitup::exchange::OpenKernel kernel;
    return &kernel;
}
