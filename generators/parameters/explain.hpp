#pragma once

#include <string>
#include <string_view>

namespace fitup::parameters {

/// What the keys of a kind mean, as plain text made from its schema.
struct Explanation {
    bool found = false;
    std::string text;  ///< when not found: a sentence with the nearest key
};

/// @param schema_name  a kind with a schema ("adapter_plate")
/// @param key_path     empty for all keys, else dotted: "patterns.circle.count"
Explanation explain(std::string_view schema_name, std::string_view key_path);

}  // namespace fitup::parameters
