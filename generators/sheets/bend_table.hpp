#pragma once

#include <string>

#include "plan/plan.hpp"

/// The bend table of a rod: what is marked, set and turned at the bender.
namespace fitup::sheets {

/// RFC 4180 CSV: a row a bend (number, mark, middle, angle, turn, radius, straight before it), a last row for
/// the far end, whose mark is the cut length; millimetres and inches.
/// REQUIRES: a plan with a rod.
std::string bend_table_csv(const plan::Plan& plan);

/// The same as plain text for the terminal, with how to read it.
std::string bend_table_text(const plan::Plan& plan);

}  // namespace fitup::sheets
