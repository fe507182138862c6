#pragma once

#include <optional>

#include "calculations/clocking.hpp"

namespace fitup::calculations {

/// A clocking, or the faults that stood in its way (never both).
struct ReadClocking {
    std::optional<Clocking> clocking;
    parameters::Faults faults;
};

/// A checked document to a clocking. Faults: a plate's file that can't be read, is wrong or another kind of
/// part, names that are no pattern of it or stand twice, patterns that turn about different axes, a range the
/// wrong way round or over a full turn.
ReadClocking read_clocking(const parameters::Document& document);

}  // namespace fitup::calculations
