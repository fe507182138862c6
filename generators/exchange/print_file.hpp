#pragma once

#include <array>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "mesh/mesh.hpp"

/// 3MF, the file for printing that knows its unit. The half that writes it is a library of its own, opened
/// when first needed.
namespace fitup::exchange {

/// A closed body. Lengths in mm; vertices become single-precision numbers.
struct PrintBody {
    std::string name;
    std::string material;
    std::array<double, 3> srgb{};  ///< 0 to 1
    mesh::Mesh mesh;
};

class PrintFiles {
  public:
    virtual ~PrintFiles() = default;
    /// The same bodies give the same bytes. @throws KernelError
    virtual std::string write(std::span<const PrintBody> bodies, const std::string& title) const = 0;
    /// Names and meshes of a file, scaled to mm; read strictly. @throws FileError(name, ..)
    virtual std::vector<PrintBody> read(std::string_view bytes, const std::string& name) const = 0;
};

/// @throws KernelError when the library can't be loaded
const PrintFiles& print_files();

inline constexpr const char* print_files_entry = "fitup_print_files";
using PrintFilesEntry = const PrintFiles*();

}  // namespace fitup::exchange
