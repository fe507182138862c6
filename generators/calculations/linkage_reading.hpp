#pragma once

#include <optional>

#include "calculations/linkage.hpp"
#include "parts/reading.hpp"

namespace fitup::calculations {

/// A linkage, or the faults that stood in its way (never both).
struct ReadLinkage {
    std::optional<Linkage> linkage;
    parameters::Faults faults;
};

/// A checked document to a linkage. Faults: axes and rests of no length or not square, bounds the wrong way
/// round, levers on one and the same axis, windows that overlap, names that stand twice, numbers of levers
/// and rods that don't fit, parts' files that can't be read, are wrong or of another kind.
ReadLinkage read_linkage(const parameters::Document& document);

}  // namespace fitup::calculations
