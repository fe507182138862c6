#pragma once

#include <optional>
#include <string>
#include <vector>

#include "plan/contour_tree.hpp"

namespace fitup::plan {

/// An end of a column of metal. Flat at `z_mm`, or sloped: `z_mm` at the region's outer contour and
/// `z_inner_mm` at the contour `inner` (at the axis when there is none).
struct ColumnEnd {
    double z_mm = 0.0;
    std::string name;
    bool sloped = false;
    double z_inner_mm = 0.0;
    std::optional<std::size_t> inner;

    /// Height at a contour inside the region.
    double at_inner(std::size_t contour) const { return sloped && inner == contour ? z_inner_mm : z_mm; }
};

struct Column {
    ColumnEnd bottom;
    ColumnEnd top;
};

/// Columns of the region just inside each contour of the tree.
struct Columns {
    std::vector<std::vector<Column>> of_region;
    /// Groups with a slope that no column can have: it holds other contours, or breaks through.
    std::vector<std::size_t> unfit;
};

Columns columns_of(const Plan& plan, const std::vector<Cut>& all, const ContourTree& tree);

}  // namespace fitup::plan
