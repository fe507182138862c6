#pragma once

#include <map>
#include <optional>
#include <vector>

#include "plan/skin_layout.hpp"

/// Second stage of the skin: the loops as a tree, and the metal between each loop and those directly inside
/// it.
namespace fitup::plan {

/// One end of a column: at the region's loop, and at the loop directly inside it (or on the axis). Equal:
/// flat.
struct End {
    double z_outer = 0.0;
    double z_inner = 0.0;
    std::size_t item = 0;  ///< that made it
    bool is_flat() const { return z_outer == z_inner; }
};

/// Metal from `low` to `high` at every point of a region.
struct Column {
    End low;
    End high;
};

/// The region just inside a loop. Heights nearer than `same_point_mm` are equal to the last bit.
struct Region {
    std::size_t loop = 0;
    std::optional<std::size_t> parent;  ///< region
    std::vector<std::size_t> children;  ///< regions
    std::vector<Column> columns;        ///< from the lowest up
};

/// Parents come before their children.
using Regions = std::vector<Region>;

/// The regions of all loops that have an item in the skin. What can't be part of a skin for its slope's sake
/// (a cone that breaks through a floor or has another contour in it, a contour across a broken edge) is
/// dropped on the way.
Regions build_regions(Layout& layout, const Stock& stock);

}  // namespace fitup::plan
