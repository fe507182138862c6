#pragma once

#include <span>
#include <string>
#include <string_view>

#include "parameters/length.hpp"
#include "parameters/node.hpp"

namespace fitup::parameters {

/// Text of a schema file by its name ("adapter_plate", "common"), compiled into the program; empty when there is none.
std::string_view schema_text(std::string_view name);

/// Checks a document against a schema of ours (JSON Schema draft-07; lengths carry their range in mm in `x-least-mm`,
/// `x-more-than-mm` and `x-most-mm`). All faults at once, each at the deepest place that is wrong, with the nearest key for a misspelt one.
Faults check(const Document& document, std::string_view schema_name);

/// Plain draft-07 validity of any instance under any schema text, for the standard's own test suite.
bool is_valid(const Node& instance, const Node& schema);

}  // namespace fitup::parameters
