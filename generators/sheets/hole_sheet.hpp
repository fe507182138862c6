#pragma once

#include <span>
#include <string>
#include <vector>

#include "plan/paper.hpp"
#include "plan/pattern_fastener.hpp"
#include "plan/plan.hpp"
#include "sheets/drawing.hpp"

/// Sheets to drill by: what stands at the machine while a part is made.
namespace fitup::sheets {

struct HoleSheet {
    std::string suffix;  ///< of the file's name: "-sheet-B"
    std::vector<Drawing> pages;
};

/// One for each side of a plate or a crank that is worked on, as it lies on the table: its picture with the
/// holes' numbers and what they are measured from, the order of work with every tool once, and the rows of
/// the hole list with a box to tick and both units. Sheets are A4 or Letter.
/// The first one ends with the fasteners.
/// @param told  what the file says of them beside the plan
std::vector<HoleSheet> hole_sheets(const plan::Plan& plan, const plan::PaperSize& size,
                                   std::span<const plan::PatternFastener> told = {});

}  // namespace fitup::sheets
