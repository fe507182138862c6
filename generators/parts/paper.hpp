#pragma once

#include "parts/reading.hpp"
#include "plan/paper.hpp"

namespace fitup::parts {

/// `paper` of a part's file; A4 where it says nothing.
plan::Paper read_paper(const Reader& reader);

}  // namespace fitup::parts
