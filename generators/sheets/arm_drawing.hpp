#pragma once

#include "sheets/part_drawing.hpp"
#include "sheets/sheet_composer.hpp"

namespace fitup::sheets {

/// What is on an offset arm's drawing: from above, from the side, the flat blank, holes, bends.
std::vector<SheetContent> arm_content(const plan::Plan& plan, const plan::DrawingSheet& sheet,
                                      const DrawingFacts& facts);

/// What is on a rod's drawing: its views, the straight bar with its marks, bends and ends.
std::vector<SheetContent> rod_content(const plan::Plan& plan, const plan::DrawingSheet& sheet,
                                      const DrawingFacts& facts);

}  // namespace fitup::sheets
