#pragma once

#include <vector>

#include "sheets/hole_list.hpp"

namespace fitup::sheets {

/// Order of work on one side.
enum class Stage { bore, drill, counterbore, countersink, slot, tap, ream, at_assembly };

struct Operation {
    Stage stage = Stage::drill;
    HoleLine line;
};

/// What is done at one hole, each line on the side it is cut from, in order of work; `from_last_mm` is not
/// set.
std::vector<Operation> operations(const plan::Plan& plan, const plan::Hole& hole);

}  // namespace fitup::sheets
