#pragma once

#include <string>

#include "plan/plan.hpp"

/// The report's table of what the view shows: holes, or a rod's ends and bends.
namespace fitup::sheets {

/// HTML. Each hole stands in one row, on the side it is made from, with X and Y as that side lies on the
/// table (as the hole list has them); millimetres over inches, or the other way round for a file in inches. A
/// row's `id` is "hole=ID", so that a link can name it, and its `data-hole` or `data-stretch` is mark_text().
std::string report_table(const plan::Plan& plan);

/// How the table's sides lie, and where zero is.
std::string report_table_note(const plan::Plan& plan);

}  // namespace fitup::sheets
