#pragma once

#include <span>
#include <string>
#include <string_view>

#include "parameters/node.hpp"

namespace fitup::parameters {

/// What a parameter file says it is, `"part": KIND` or `"calculation": KIND`.
enum class Role { part, calculation };

/// "part", "calculation": the key that names the kind.
std::string_view key_of(Role role);

/// A file read and checked against its kind's schema. Without `kind` its faults say why.
struct Opened {
    Document document;
    std::string kind;
};

/// Reads a file's text, finds its kind among `kinds` and checks it against the schema of that name.
/// @param file  for messages
Opened open_file(std::string_view bytes, const std::string& file, Role role,
                 std::span<const std::string> kinds);

}  // namespace fitup::parameters
