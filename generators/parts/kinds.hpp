#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "parameters/node.hpp"
#include "plan/finding.hpp"
#include "plan/paper.hpp"
#include "plan/plan.hpp"
#include "plan/work.hpp"

/// The kinds of part. Each is a file here (parameters to plan) and a schema of the same name.
namespace fitup::parts {

/// A plan, or the faults that stood in its way (never both).
struct Planned {
    std::optional<plan::Plan> plan;
    parameters::Faults faults;
    /// What the files that the plan was taken from have to say; rules know only the plan.
    plan::Findings findings = {};
    plan::Papers papers = {};
};

class Reader;

struct Kind {
    std::string_view name;
    std::string_view summary;
    /// A commented parameter file that makes a sound part.
    std::string_view starter;
    /// @param document  already checked against the kind's schema without faults
    Planned (*plan)(const parameters::Document& document);
    /// What the kind works out beyond what every part has; null: nothing.
    plan::Work (*work)(const plan::Plan& plan) = nullptr;
};

std::span<const Kind> kinds();
/// Their names, for messages and completions.
std::vector<std::string> kind_names();
const Kind* find_kind(std::string_view name);

/// No plan, and the reader's faults in the file's order.
Planned refused(const Reader& reader);

/// The figures of the plan's own kind; empty where it has none.
plan::Work work_of(const plan::Plan& plan);

/// Reads, checks and plans a parameter file's text.
Planned plan_file(std::string_view bytes, const std::string& file);

}  // namespace fitup::parts
