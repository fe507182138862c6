#pragma once

#include <string>

#include "calculations/linkage_result.hpp"

namespace fitup::sheets {

/// A linkage's result as tables for people: sizes, positions, the setting, the adjustment table, what errors
/// of a hand do, and how to set it.
std::string linkage_text(const calculations::LinkageResult& result);

}  // namespace fitup::sheets
