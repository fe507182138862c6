#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "parameters/node.hpp"
#include "plan/plan.hpp"

/// The kinds of part. Each is a file here (parameters to plan) and a schema of the same name.
namespace fitup::parts {

/// A plan, or the faults that stood in its way (never both).
struct Planned {
    std::optional<plan::Plan> plan;
    parameters::Faults faults;
};

struct Kind {
    std::string_view name;
    std::string_view summary;
    /// A commented parameter file that makes a sound part.
    std::string_view starter;
    /// @param document  already checked against the kind's schema without faults
    Planned (*plan)(const parameters::Document& document);
};

std::span<const Kind> kinds();
/// Their names, for messages and completions.
std::vector<std::string> kind_names();
const Kind* find_kind(std::string_view name);

/// Reads, checks and plans a parameter file's text.
Planned plan_file(std::string_view bytes, const std::string& file);

}  // namespace fitup::parts
