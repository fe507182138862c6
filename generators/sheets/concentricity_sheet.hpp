#pragma once

#include <string>

#include "calculations/concentricity.hpp"

namespace fitup::sheets {

/// A concentricity's result as tables for people: the budget with each contribution's share and what it would
/// have to be, and the dial-in sheet.
std::string concentricity_text(const calculations::ConcentricityResult& result);

}  // namespace fitup::sheets
