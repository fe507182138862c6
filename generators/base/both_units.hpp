#pragma once

#include <string>

namespace fitup {

/// "12.7 mm (0.5 in)".
std::string both_units(double length_mm);

}  // namespace fitup
