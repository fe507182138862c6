#pragma once

#include <string>

#include "sheets/cutting_line.hpp"
#include "sheets/place_view.hpp"

namespace fitup::sheets {

/// How far a cutting line's signs stand out over the part on the page.
double cut_signs_room_mm(double text_mm);

/// On the view of side B: where a section is cut, ends and corners wide, arrows the way it is looked at, its
/// letter at both (ISO 128-3, from memory).
void add_cut_signs(Drawing& drawing, const CuttingLine& line, const std::string& letter,
                   const Placing& placing, double text_mm);

}  // namespace fitup::sheets
