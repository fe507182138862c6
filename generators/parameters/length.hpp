#pragma once

#include <optional>
#include <string_view>

#include "parameters/node.hpp"
#include "plan/plan.hpp"

namespace fitup::parameters {

using plan::Units;

/// Reads "12 mm", "0.4995 in", "3/8 in", "1-1/4 in", "4 thou"; nothing for any other text.
std::optional<double> length_mm(std::string_view text);

/// A length node in mm: a number in the file's units, or a text with its own. Nothing when it is neither.
std::optional<double> length_mm(const Node& node, Units units);

}  // namespace fitup::parameters
