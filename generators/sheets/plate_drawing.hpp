#pragma once

#include "sheets/part_drawing.hpp"
#include "sheets/sheet_composer.hpp"

namespace fitup::sheets {

/// What is on a plate's or a crank's drawing: with the section beside side B, and under it.
std::vector<SheetContent> plate_content(const plan::Plan& plan, const plan::DrawingSheet& sheet,
                                        const DrawingFacts& facts);

}  // namespace fitup::sheets
