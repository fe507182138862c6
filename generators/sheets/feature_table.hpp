#pragma once

#include <optional>

#include "plan/plan.hpp"
#include "sheets/drawn_table.hpp"
#include "sheets/sheet_sizes.hpp"

/// Tables of what is no hole.
namespace fitup::sheets {

/// What is milled into a face or stands on it: id, side, shape with place, depth or height. Nothing where
/// there is none.
std::optional<DrawnTable> feature_table(const plan::Plan& plan, const SheetSizes& sizes);

/// A crank's arms with length and angle; nothing for other parts.
std::optional<DrawnTable> crank_arms_table(const plan::Plan& plan, const SheetSizes& sizes);

/// The outline's arcs and corners in order, where it is no circle, slot or rectangle.
std::optional<DrawnTable> outline_table(const plan::Plan& plan, const SheetSizes& sizes);

}  // namespace fitup::sheets
