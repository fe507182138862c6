#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "plan/pattern_fastener.hpp"
#include "plan/plan.hpp"
#include "sheets/sheet_pages.hpp"

/// What a part is bolted, dowelled and jointed with, for one part.
namespace fitup::sheets {

struct FastenerRow {
    std::string where;  ///< the pattern's or hole's name, "first end"
    std::size_t count = 1;
    std::string what = {};  ///< "stud", "nut", "washer", "dowel pin", ..
    std::string size = {};  ///< "M10", "3/8", "12 mm"
    std::optional<double> length_mm =
        {};                   ///< of a stud over all, of a headed one under its head (countersunk: over all)
    bool plus_reach = false;  ///< what it goes into or through the casting comes on top of that
    std::string made_up_of = {};  ///< the length's parts in words, or a remark
    std::string source = {};      ///< of nut and washer
};

/// Pattern by pattern, then pinch bolts and what goes on a rod's ends; tapped eyes of a lever last.
///
/// A stud is as long as its thread in the plate, the casting, washer, nut (the tables' greatest heights) and
/// two threads that stand proud (common practice, no source). A headed one in a tapped or blind hole is at
/// most that long.
std::vector<FastenerRow> fastener_rows(const plan::Plan& plan, std::span<const plan::PatternFastener> told);

/// RFC 4180 CSV, one header row, lengths in both units.
std::string fastener_csv(std::span<const FastenerRow> rows);

/// A table of them; nothing where there are none.
void add_fasteners(SheetPages& pages, std::span<const FastenerRow> rows, plan::Units units);

}  // namespace fitup::sheets
