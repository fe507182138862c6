#pragma once

#include <optional>

#include "parts/reading.hpp"
#include "plan/swing.hpp"

namespace fitup::parts {

/// `swing`, `keep_clear` and `clearance` of a lever; nothing where it has to keep clear of nothing. Without a
/// swing the lever stands as drawn.
std::optional<plan::Swing> read_swing(Reader& reader);

/// `keep_clear` and `clearance` alone, of whatever moves; nothing where there is nothing to keep clear of.
std::optional<plan::Swing> read_surroundings(Reader& reader);

}  // namespace fitup::parts
