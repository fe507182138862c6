#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "base/file.hpp"
#include "exchange/kernel.hpp"
#include "exchange/measurement.hpp"
#include "plan/profile.hpp"

/// Making a part's exchange files: the solid, STEP and STL, each read back and compared with the plan.
namespace fitup::exchange {

/// What a part measures. Closed form where nothing overlaps, else from its solid.
struct Figures {
    double volume_mm3 = 0.0;
    double area_mm2 = 0.0;
    double mass_kg = 0.0;
    plan::Box box;
};

/// A part on its way: the plan's skin, the solid where one had to be made, and what only a body shows.
struct Body {
    plan::SkinResult skin;
    std::shared_ptr<const solid::Solid> solid;
    Figures figures;
    double volume_within = 1e-9;  ///< how near the files' volume must come, relative
    plan::Findings findings;      ///< stops: cut in two, nothing left
};

using Progress = std::function<void(std::string_view stage)>;

/// The figures of a plan. The kernel is asked only where cuts overlap.
/// @param plan  without final stops
/// @throws KernelError
Body examine(const plan::Plan& plan, const Progress& progress);

/// What can be said of a plan at a glance, without the kernel.
struct Glance {
    std::optional<double> volume_mm3;  ///< where it has a closed form
    plan::Findings findings;           ///< as of examine(), where the skin shows them
};
/// @param plan  without final stops
Glance glance(const plan::Plan& plan);

struct MakeOptions {
    bool step = true;
    bool stl = true;
    bool threemf = true;
    std::filesystem::path folder = "out";
    mesh::Fineness fineness;
    StepOptions step_options;
};

struct MadeFile {
    std::string kind;  ///< "step", "stl", "3mf"
    std::filesystem::path path;
    std::size_t bytes = 0;
    bool verified = false;
    std::string checked;  ///< what was compared and how near it came, for the report
};

/// Writes the part's exchange files into `files` (not yet published), each read again from the disk and
/// compared with the plan.
/// @param meanwhile  called once when the last process of its own is made and `body` is not changed any more:
///                   other threads may be begun then
/// @throws FileError   a file can't be written or read
/// @throws KernelError the solid can't be built, or a file that was read back differs from the plan (the
/// message says where)
std::vector<MadeFile> make(
    const plan::Plan& plan, Body& body, const MakeOptions& options, FileSet& files, const Progress& progress,
    const std::function<void()>& meanwhile = [] {});

/// One profile as a DXF file in `files`, read again from the disk and compared.
/// @throws FileError, KernelError  as above
MadeFile make_dxf(const plan::Profile& profile, plan::Units units, const std::filesystem::path& path,
                  FileSet& files);

/// The part as triangles: from its skin, or from its solid where cuts overlap. @throws KernelError
mesh::Mesh part_mesh(const plan::Plan& plan, Body& body, const mesh::Fineness& fineness,
                     const Progress& progress);

/// Measures a STEP or STL file, told apart by its content. @throws FileError
Measurement measure_file(const std::filesystem::path& path);

/// The same for bytes already read; `name` stands in messages.
Measurement measure_bytes(std::string_view bytes, const std::string& name);

/// What a plan leads one to expect of a STEP file (`chord_mm` 0) or a mesh.
Expectation expectation(const Body& body, double chord_mm);

}  // namespace fitup::exchange
