#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sheets/drawing.hpp"

/// Tables on a drawing's sheet: they may be broken between rows and go on elsewhere.
namespace fitup::sheets {

/// A position tolerance frame (ISO 1101, ASME Y14.5): sign, zone, datums.
struct ToleranceFrame {
    std::string zone;                 ///< with its diameter sign
    std::vector<std::string> datums;  ///< letters
};
double width_mm(const ToleranceFrame& frame, double text_mm);
double height_mm(const ToleranceFrame& frame, double text_mm);
/// @param at  upper left corner
void add_frame(Drawing& drawing, const ToleranceFrame& frame, Place at, double text_mm);

struct TableCell {
    std::vector<std::string> lines;
    std::optional<ToleranceFrame> frame = std::nullopt;  ///< under the lines
};

struct TableColumn {
    std::string head;
    Anchor anchor = Anchor::left;
};

struct DrawnTable {
    std::string title;
    std::vector<TableColumn> columns;
    std::vector<std::vector<TableCell>> rows;
    std::vector<std::string> foot = {};  ///< words under the last row, a line each
    std::size_t most_parts = 1;          ///< into so many parts it may be folded
};

/// The same rows in several parts side by side, for a long table of narrow rows.
DrawnTable folded(const DrawnTable& table, std::size_t parts);

double width_mm(const DrawnTable& table, double text_mm);
/// Of rows `from` up to `to`, with title and heads; with the foot where it is the table's end.
double height_mm(const DrawnTable& table, std::size_t from, std::size_t to, double text_mm);
/// The last row, plus one, that still goes into the height; `from` where none does.
std::size_t rows_within(const DrawnTable& table, std::size_t from, double height, double text_mm);
/// @param at  upper left corner
void add_table(Drawing& drawing, const DrawnTable& table, std::size_t from, std::size_t to, Place at,
               double text_mm);

}  // namespace fitup::sheets
