#pragma once

#include <TopoDS_Shape.hxx>
#include <string>
#include <string_view>

#include "solid/solid_impl.hpp"

/// For exchange/kernel_side/ sources alone.
namespace fitup::exchange {

/// What a STEP text holds, as far as it is of use here. Lengths in mm whatever the file's unit.
struct StepContent {
    TopoDS_Shape shape;
    solid::FaceNames names;  ///< of the faces that have one, without their place in an assembly
    std::string product_name;
    std::string unit;
};

/// What the content is wanted for: measuring needs no curves in surface parameters on plain shapes, meshing
/// does.
enum class StepUse { measuring, meshing };

/// Needs a StepSession of the caller, and a text that check_part21 has passed; a damaged one may still end
/// the process.
/// @throws FileError(name, ..) when the text can't be understood or holds no shape.
StepContent read_step(std::string_view text, const std::string& name, StepUse use);

}  // namespace fitup::exchange
