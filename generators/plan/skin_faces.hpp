#pragma once

#include "plan/skin_columns.hpp"

/// Third stage of the skin: faces and measures from the columns.
namespace fitup::plan {

/// Walls, floors and slopes of all regions, named; contours that carry none are left out.
Skin build_faces(const Layout& layout, const Stock& stock, const Regions& regions);

/// Fills in volume, area, box and the number of pieces.
void measure(Skin& skin, const Layout& layout, const Stock& stock, const Regions& regions);

}  // namespace fitup::plan
