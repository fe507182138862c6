#include "sheets/part_drawing.hpp"

#include "sheets/arm_drawing.hpp"
#include "sheets/plate_drawing.hpp"

namespace fitup::sheets {

std::vector<Drawing> part_drawing(const plan::Plan& plan, const plan::DrawingSheet& sheet,
                                  const DrawingFacts& facts) {
    if (plan.rod) return compose(rod_content(plan, sheet, facts), sheet);
    if (plan.arm) return compose(arm_content(plan, sheet, facts), sheet);
    return compose(plate_content(plan, sheet, facts), sheet);
}

}  // namespace fitup::sheets
