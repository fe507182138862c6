#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "exchange/measurement.hpp"
#include "mesh/mesh.hpp"
#include "solid/solid.hpp"

/// The one door to everything that needs the modelling kernel. Its libraries are loaded when `kernel()` is
/// first called, so that commands which need none start at once.
namespace fitup::exchange {

enum class StepSchema { AP214, AP242 };

struct StepOptions {
    StepSchema schema = StepSchema::AP214;
    plan::Units unit = plan::Units::mm;
    /// Seconds since 1970 for the file's header; 1980-01-01 when not given, so that the same input gives the
    /// same bytes.
    std::optional<std::int64_t> time_s;
};

/// A file that is being measured while something else goes on.
class Measuring {
  public:
    virtual ~Measuring() = default;
    /// Waits for the result. To be called once.
    /// @throws FileError when the file is damaged or holds no shape.
    virtual Measurement finish() = 0;
};

/// A solid that is being meshed while something else goes on.
class Meshing {
  public:
    virtual ~Meshing() = default;
    /// Waits for the triangles, watertight. To be called once. @throws KernelError
    virtual mesh::Mesh finish() = 0;
};

/// Triangles that stand for a file's surfaces.
struct SurfaceMesh {
    mesh::Mesh mesh;
    double within_mm = 0.0;  ///< how far surfaces and triangles are from each other at most, as measured
};

class Kernel {
  public:
    virtual ~Kernel() = default;
    virtual solid::Built build(const plan::Plan& plan, const plan::SkinResult& skin) const = 0;
    /// For solids that no skin describes. Watertight, or KernelError.
    virtual mesh::Mesh mesh(const solid::Solid& solid, const mesh::Fineness& fineness) const = 0;
    /// The same in a process of its own. To be called while no other thread uses the kernel.
    virtual std::unique_ptr<Meshing> start_mesh(const solid::Solid& solid,
                                                const mesh::Fineness& fineness) const = 0;
    virtual std::string step_text(const solid::Solid& solid, const plan::Plan& plan,
                                  const StepOptions& options) const = 0;
    /// Starts to read and measure a STEP text, of which a copy is taken.
    /// @throws FileError(name, ..) when the text is no STEP file.
    virtual std::unique_ptr<Measuring> start_measuring(std::string_view text,
                                                       const std::string& name) const = 0;
    /// The surfaces of a STEP text as triangles, made finer until neither strays from the other by more than
    /// `within_mm`; watertight or not.
    /// @throws FileError(name, ..) when the text is no STEP file, is damaged, holds no surface or one that
    /// can't be held to that.
    virtual SurfaceMesh step_surface(std::string_view text, const std::string& name,
                                     double within_mm) const = 0;
    Measurement measure_step(std::string_view text, const std::string& name) const {
        return start_measuring(text, name)->finish();
    }
};

/// Loads the kernel's part of the program at the first call. @throws KernelError when it can't be loaded.
const Kernel& kernel();

}  // namespace fitup::exchange
