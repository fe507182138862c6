#pragma once

#include "parts/reading.hpp"
#include "plan/paper.hpp"

namespace fitup::parts {

/// `paper`, `drawing`, `mockup` and `print` of a part's file, defaults where it says nothing: templates on
/// A4, the drawing on A3 (Tabloid in inches), threads printed as they are modelled.
plan::Papers read_papers(const Reader& reader);

}  // namespace fitup::parts
