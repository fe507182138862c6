#pragma once

#include <string>

#include "calculations/bolts_up.hpp"
#include "sheets/drawing.hpp"

namespace fitup::sheets {

/// How two patterns lie on one another once they are laid: at each fastener a ring for the room that it has
/// and a dot for where it comes to stand, both enlarged alike; a dot outside its ring does not go in.
/// @param fit  of this case, with as many clearances as it has fasteners
Drawing bolting_chart(const calculations::BoltingCase& one, const calculations::BoltFit& fit,
                      const std::string& title);

}  // namespace fitup::sheets
