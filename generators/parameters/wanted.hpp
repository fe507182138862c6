#pragma once

#include <string>
#include <vector>

#include "parameters/references.hpp"

namespace fitup::parameters {

/// What a schema asks for, in words: "a whole number from 1 to 2000".
std::string wanted(const References& references, const Located& schema);

/// "from 1 to 2000", "over 0 and at most 30000", "" without a range.
std::string range_words(const Node& schema);

/// The texts that a schema names by const and enum, its alternatives included.
std::vector<std::string> words_of(const References& references, const Located& schema);

/// The texts in double quotes.
std::vector<std::string> all_in_quotes(const std::vector<std::string>& words);

/// The keys that a schema names with its alternatives `{"required": [KEY]}`; empty when it has other
/// alternatives.
std::vector<std::string> alternative_keys(const Node& alternatives);

/// Keys of the properties of an object schema, in its order.
std::vector<std::string> property_keys(const Node& schema);

/// An object of exactly one of its keys (`minProperties` and `maxProperties` 1).
bool is_exactly_one_key(const Node& schema);

/// The property whose `const` tells the alternatives apart (oneOf of kinds); empty when there is none.
std::string kind_key(const std::vector<Located>& branches);

}  // namespace fitup::parameters
