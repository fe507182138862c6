#pragma once

#include <string>

#include "calculations/stack.hpp"

namespace fitup::sheets {

/// A stack's result as tables for people: the open link and what each closing asks of it, each closing with
/// its worst case and its likely range, and the sizes at which each extreme comes about.
std::string stack_text(const calculations::StackResult& result);

}  // namespace fitup::sheets
