#pragma once

#include "calculations/linkage_result.hpp"
#include "sheets/drawing.hpp"

namespace fitup::sheets {

/// The output over the input: windows as bands, positions marked, play as a shaded width, stops.
Drawing linkage_chart(const calculations::LinkageResult& result);

/// The whole linkage at each named position, to scale: seen along the first lever's axis and from the side,
/// with the way everything turns as the input grows.
Drawing linkage_picture(const calculations::LinkageResult& result);

}  // namespace fitup::sheets
