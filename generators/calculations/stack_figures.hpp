#pragma once

#include "calculations/stack.hpp"
#include "plan/work.hpp"

namespace fitup::calculations {

/// The keys of a stack's result object.
plan::Work stack_figures(const StackResult& result);

}  // namespace fitup::calculations
