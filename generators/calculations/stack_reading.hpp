#pragma once

#include <optional>

#include "calculations/stack.hpp"
#include "parameters/node.hpp"

namespace fitup::calculations {

/// A stack, or the faults that stood in its way (never both).
struct ReadStack {
    std::optional<Stack> stack;
    parameters::Faults faults;
};

/// A checked document to a stack. Faults: names that stand twice or begin with `-`, unknown links, a link
/// twice in a closing, windows the wrong way round, more than one open link, an open link that no closing
/// asks for.
ReadStack read_stack(const parameters::Document& document);

}  // namespace fitup::calculations
