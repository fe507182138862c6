#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace fitup::parameters {

/// What the keys of a kind mean, as plain text made from its schema.
struct Explanation {
    bool found = false;
    std::string text;  ///< when not found: a sentence with the nearest key
};

/// @param schema_name  a kind with a schema ("adapter_plate")
/// @param key_path     empty for all keys, else dotted: "patterns.circle.count" (an index, "patterns[0]", is
/// passed over) Without such a schema nothing is found.
Explanation explain(std::string_view schema_name, std::string_view key_path);

/// Every key of a schema, dotted, in its order: "outline", "outline.round", "outline.round.diameter". A name
/// that the user chooses stands as NAME ("rules.NAME.warn"). Empty without such a schema.
std::vector<std::string> keys(std::string_view schema_name);

}  // namespace fitup::parameters
