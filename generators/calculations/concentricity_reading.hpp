#pragma once

#include <optional>

#include "calculations/concentricity.hpp"
#include "parameters/node.hpp"

namespace fitup::calculations {

/// A budget and its readings, or the faults that stood in their way (never both).
struct ReadConcentricity {
    std::optional<Concentricity> asked;
    parameters::Faults faults;
};

/// A checked document. Faults: an unknown housing, names that stand twice, clearances the wrong way round,
/// fits that the tables do not reach, a plate's file that can't be read, is wrong or another kind of part.
ReadConcentricity read_concentricity(const parameters::Document& document);

}  // namespace fitup::calculations
