#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

/// The kinds of calculation: numbers in, numbers out, no solid. Each has a schema of its name.
namespace fitup::calculations {

struct Kind {
    std::string_view name;
    std::string_view summary;
    /// A commented parameter file that works out.
    std::string_view starter;
};

std::span<const Kind> kinds();
/// Their names, for messages and completions.
std::vector<std::string> kind_names();
const Kind* find_kind(std::string_view name);

}  // namespace fitup::calculations
