#pragma once

#include <optional>

#include "calculations/as_made.hpp"
#include "parameters/node.hpp"

namespace fitup::calculations {

/// A finished plate to be judged, or the faults that stood in its way (never both).
struct ReadAsMade {
    std::optional<AsMade> made;
    parameters::Faults faults;
};

/// A checked document to a finished plate. Faults: files that can't be read or are of another kind, points
/// that are no holes of the plate, castings' holes that were not measured, patterns that don't bolt, counts
/// that differ, a casting measured on the other side than its pattern is for.
ReadAsMade read_as_made(const parameters::Document& document);

}  // namespace fitup::calculations
