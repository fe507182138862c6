#pragma once

#include "plan/plan.hpp"
#include "sheets/sheet_pages.hpp"

namespace fitup::sheets {

/// Pages for the holes that go into a part's edges, one an edge: the part as it lies with that edge up, and
/// the rows of `edge_lines`. Nothing for a part without such holes.
void add_edge_pages(SheetPages& pages, const plan::Plan& plan);

}  // namespace fitup::sheets
