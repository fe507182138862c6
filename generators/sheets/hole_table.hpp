#pragma once

#include <string>
#include <vector>

#include "plan/finding.hpp"
#include "plan/plan.hpp"
#include "sheets/drawn_table.hpp"
#include "sheets/sheet_sizes.hpp"

/// A drawing's hole table: holes alike have a letter, each of them a number.
namespace fitup::sheets {

/// Holes of one pattern that are made alike.
struct HoleGroup {
    std::string letter;
    std::vector<std::size_t> holes;    ///< indices into Plan::holes
    std::vector<std::string> callout;  ///< of one hole
    std::optional<ToleranceFrame> frame = std::nullopt;
    bool is_datum = false;  ///< the bore
};

/// The datum at the bore, and at the face that everything stands on.
inline constexpr const char* bore_datum = "C";
inline constexpr const char* face_datum = "A";

/// In the plan's order. Letters are none of the sides' (A, B) nor the bore's (C). The position tolerances are
/// those of the findings.
std::vector<HoleGroup> hole_groups(const plan::Plan& plan, const plan::Findings& findings,
                                   const SheetSizes& sizes);

/// "D3"; of a group of one its letter alone.
std::string hole_mark(const HoleGroup& group, std::size_t number);

/// Letter, number, callout with tolerance frame, and which holes of the file these are.
DrawnTable hole_kinds_table(const plan::Plan& plan, const std::vector<HoleGroup>& groups,
                            const SheetSizes& sizes);

/// X and Y of every hole from the bore's axis as seen on side B, and its size in short.
DrawnTable hole_places_table(const plan::Plan& plan, const std::vector<HoleGroup>& groups,
                             const SheetSizes& sizes);

}  // namespace fitup::sheets
