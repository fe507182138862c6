#pragma once

#include <array>
#include <string>

#include "plan/paper.hpp"
#include "sheets/drawing.hpp"

/// A drawing's sheet: border with zones and centring marks (ISO 5457, from memory, unverified) and a title
/// block of our own.
namespace fitup::sheets {

/// Left, top, right, bottom on the page.
using PageBox = std::array<double, 4>;

struct TitleBlock {
    std::string name, revision, quantity;
    std::string material, mass, over_all;
    std::string scale, units, date;
    std::string tolerance, edges, finish;
    std::string caution;
    plan::Projection projection = plan::Projection::third;
};

struct SheetLayout {
    double width_mm = 0.0, height_mm = 0.0;
    PageBox inner{};       ///< within the frame
    PageBox title{};       ///< at the lower right of it
    double text_mm = 3.0;  ///< of dimensions: smaller on small sheets
    double table_text_mm = 2.5;
};

/// The sheet laid on its long side.
SheetLayout sheet_layout(const plan::PaperSize& size);

/// An empty sheet of this layout with its frame and title block.
Drawing empty_sheet(const SheetLayout& layout, const TitleBlock& block, int sheet, int of);

}  // namespace fitup::sheets
