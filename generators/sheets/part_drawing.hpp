#pragma once

#include <string>
#include <vector>

#include "plan/finding.hpp"
#include "plan/paper.hpp"
#include "plan/plan.hpp"
#include "sheets/drawing.hpp"

/// The engineering drawing of a part: what a shop quotes and works from beside the STEP file.
namespace fitup::sheets {

/// What a drawing says beyond the plan.
struct DrawingFacts {
    const plan::Findings& findings;  ///< position tolerances are taken from them
    double volume_mm3 = 0.0;
    double mass_kg = 0.0;
    plan::Box box;
    std::string date = {};  ///< as it is to stand there; "": left to be filled in by hand
};

/// Sheets of one size, in order. Of a plate: sides that are worked on, a section, holes by kind and by place.
std::vector<Drawing> part_drawing(const plan::Plan& plan, const plan::DrawingSheet& sheet,
                                  const DrawingFacts& facts);

}  // namespace fitup::sheets
