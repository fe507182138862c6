#pragma once

#include <string>
#include <vector>

#include "parameters/references.hpp"

namespace fitup::parameters {

/// A key as a reader meets it: lists and alternatives between it and the keys above are passed over.
struct KeyEntry {
    std::string key;
    /// What the schema says of it: `written` as it stands under the key, `schema` with references followed.
    const Node* written = nullptr;
    Located schema;
    bool required = false;
    /// One of several keys of which exactly one must be given.
    bool one_of_some = false;
    /// The kinds that have it, as `kind "tapped"`; empty when all have.
    std::vector<std::string> kinds;
};

/// The keys inside a schema, those of its items and its alternatives included, in the schema's order.
std::vector<KeyEntry> keys_inside(const References& references, const Located& schema);

/// The keys that a dotted path means (more than one where kinds say different things); empty when there are
/// none.
std::vector<KeyEntry> keys_at(const References& references, std::string_view path);

/// What stands in a schema for a name that the user chooses.
inline constexpr const char* any_name = "NAME";

/// A key's own words, or those of the schema that it refers to; empty where there are none.
std::string description_of(const KeyEntry& entry);
/// Its default in JSON, or in words.
std::string default_of(const KeyEntry& entry);

}  // namespace fitup::parameters
