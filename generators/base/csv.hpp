#pragma once

#include <span>
#include <string>

namespace fitup {

/// One row of RFC 4180 CSV with its line end: a cell is quoted where a comma, a quote or a line end stands in
/// it.
std::string csv_row(std::span<const std::string> cells);

}  // namespace fitup
