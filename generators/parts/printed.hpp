#pragma once

#include <optional>

#include "plan/finding.hpp"
#include "plan/paper.hpp"
#include "plan/plan.hpp"

namespace fitup::parts {

/// The plan that STL and 3MF are made of and held to, where the file wants them to differ from the part;
/// nothing where they are the part's own.
/// @param plan  of parts::plan_file()
std::optional<plan::Plan> printed_plan(const plan::Plan& plan, const plan::Print& print);

/// A note of how STL and 3MF differ from the part, or that what was asked for changes nothing; empty where
/// nothing was asked.
plan::Findings print_findings(const plan::Plan& plan, const plan::Print& print);

}  // namespace fitup::parts
