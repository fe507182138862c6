#pragma once

#include "sheets/drawing_frame.hpp"
#include "sheets/drawn_table.hpp"
#include "sheets/part_drawing.hpp"
#include "sheets/sheet_sizes.hpp"

/// What a drawing says of the part in words.
namespace fitup::sheets {

/// All but the scale.
TitleBlock title_block(const plan::Plan& plan, const plan::DrawingSheet& sheet, const DrawingFacts& facts);

/// Numbered notes, broken into lines of at most this width.
DrawnTable notes_table(const plan::Plan& plan, const std::vector<std::string>& own, double wide_mm,
                       double text_mm);

}  // namespace fitup::sheets
