#pragma once

#include "parts/reading.hpp"

namespace fitup::parts {

/// Faults of a path that no rod can have: corners twice in one place, a corner that does not turn or turns
/// straight back, no or too small a radius, straights too short for their roundings or for the threads on
/// them. Each says which corner, and what would do.
void check_bending(Reader& reader, const plan::Rod& rod);

}  // namespace fitup::parts
