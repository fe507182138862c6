#pragma once

#include "calculations/stack.hpp"

namespace fitup::calculations {

/// What is to be said of a stack worked out: closings that exclude each other, closings that leave their
/// window, links without a tolerance or without use.
plan::Findings stack_findings(const StackResult& result);

}  // namespace fitup::calculations
