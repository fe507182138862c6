#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "plan/finding.hpp"
#include "plan/plan.hpp"

namespace fitup::rules {

/// A shop rule as `explain rules` shows it. A limit that depends on the material is told in `meaning`.
struct Rule {
    std::string name;
    std::string meaning;  ///< what it watches, and why
    std::string unit;     ///< of its limit, "" where it has none
    std::optional<double> warn;
    std::optional<double> stop;
    std::string source;
    /// False for the stops that nothing lifts, and for notes that have no limit.
    bool can_be_overridden = true;
    /// The limit under (or over) which the rule only notes.
    std::optional<double> note = std::nullopt;
};

/// Every rule, in the order of `explain rules`.
std::span<const Rule> all_rules();

/// The rule of that name; null for an unknown one, as a parameter file's `rules` may name it. Names for
/// "nearest" messages are those of all_rules().
const Rule* find_rule(std::string_view name);

/// All findings on a plan, overrides of the file applied and reported; stops first, then warnings, then
/// notes.
///
/// No kernel is needed; cost is about linear in holes for parts of usual size.
plan::Findings judge(const plan::Plan& plan);

}  // namespace fitup::rules
