#pragma once

#include <span>
#include <string>
#include <vector>

#include "sheets/hole_list.hpp"

/// A hole list by tools: what is done before the next tool is put in.
namespace fitup::sheets {

using Round = std::span<const HoleLine>;

/// Lines that follow one another with one tool, on one side or edge. They point into `lines`.
std::vector<Round> rounds_of(std::span<const HoleLine> lines);

/// "drill and tap drill".
std::string operations_text(Round round);

/// The note that all its lines have; "" where they differ or have none.
std::string shared_note(Round round);

}  // namespace fitup::sheets
