#pragma once

#include "plan/joggle.hpp"
#include "sheets/fastener_list.hpp"
#include "sheets/hole_sheet.hpp"
#include "sheets/sheet_pages.hpp"

/// What is marked and bent, on paper.
namespace fitup::sheets {

/// The sheet of a rod: the straight stock with its marks, how its ends are threaded, the bend table.
/// "-sheet". REQUIRES: a plan with a rod.
HoleSheet rod_sheet(const plan::Plan& plan, const plan::PaperSize& size,
                    std::span<const FastenerRow> fasteners);

/// Where a flat strip is marked and bent, in which order, and where its holes lie afterwards; nothing for a
/// strip that stays flat.
void add_strip_bends(SheetPages& pages, const plan::Plan& plan, const plan::FlatBlank& blank);

/// "winch-adapter, revision B, 2 off".
std::string part_words(const plan::Plan& plan);

}  // namespace fitup::sheets
