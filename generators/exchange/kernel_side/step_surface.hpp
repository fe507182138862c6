#pragma once

#include <string>
#include <string_view>

#include "exchange/kernel.hpp"

namespace fitup::exchange {

/// @see Kernel::step_surface
SurfaceMesh step_surface(std::string_view text, const std::string& name, double within_mm);

}  // namespace fitup::exchange
