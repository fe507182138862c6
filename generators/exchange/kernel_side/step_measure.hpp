#pragma once

#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>
#include <string>
#include <string_view>
#include <vector>

#include "exchange/kernel.hpp"
#include "solid/solid_impl.hpp"

/// The stages of measuring a STEP text; for exchange/kernel_side/ sources alone.
namespace fitup::exchange {

/// Reads and measures in a process of its own, as the kernel falls over one in six damaged files.
/// @see Kernel::start_measuring
std::unique_ptr<Measuring> start_measuring(std::string_view text, const std::string& name);

/// Refuses what is no whole Part 21 file (ISO 10303-21): wrong or missing key words, a text cut short, an
/// instance that is named and not there. The kernel takes such files for something and may fall over them.
/// @throws FileError(name, ..)
void check_part21(std::string_view text, const std::string& name);

/// Cylinders, cones and bends of a shape; faces of one wall are joined.
struct RoundFaces {
    std::vector<Cylinder> cylinders;
    std::vector<ConeFace> cones;
    std::vector<BendFace> bends;
};
RoundFaces round_faces(const TopoDS_Shape& shape, const solid::FaceNames& names);

}  // namespace fitup::exchange
