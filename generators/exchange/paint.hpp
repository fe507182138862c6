#pragma once

#include <array>
#include <string_view>

namespace fitup::exchange {

/// How bare metal of a family (plan::Material::family) looks, in sRGB from 0 to 1; our own choice.
std::array<double, 3> paint_of(std::string_view family);

}  // namespace fitup::exchange
