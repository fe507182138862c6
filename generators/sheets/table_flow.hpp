#pragma once

#include <vector>

#include "sheets/drawing_frame.hpp"
#include "sheets/drawn_table.hpp"

namespace fitup::sheets {

/// Where a table, or a part of one, goes.
struct PlacedTable {
    std::size_t table = 0;
    std::size_t parts = 1;         ///< that it is folded into
    std::size_t from = 0, to = 0;  ///< rows
    std::size_t sheet = 0;
    Place at{};
    double text_mm = 0.0;
};

struct Flow {
    std::vector<PlacedTable> placed;
    std::size_t sheets = 0;  ///< those that had room given, and more where that was not enough
};

/// Puts tables into the room that sheets have left, in order, whole where that can be, and on further sheets
/// what does not go.
/// @param room   free boxes of each sheet that there is
/// @param empty  free boxes of a further sheet
Flow flow_tables(const std::vector<DrawnTable>& tables, std::vector<std::vector<PageBox>> room,
                 const std::vector<PageBox>& empty, double text_mm);

}  // namespace fitup::sheets
