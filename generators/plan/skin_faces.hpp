#pragma once

#include "plan/columns.hpp"
#include "plan/skin.hpp"

namespace fitup::plan {

/// Walls, floors, slopes, volume, area, box and pieces of columns.
Skin faces_of(const Plan& plan, const std::vector<Cut>& all, const ContourTree& tree, const Columns& columns);

}  // namespace fitup::plan
