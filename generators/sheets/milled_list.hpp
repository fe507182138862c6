#pragma once

#include <optional>
#include <string>
#include <vector>

#include "plan/plan.hpp"

namespace fitup::sheets {

/// A shape that is milled from one side, besides its holes. X and Y as that side lies on the table (side A
/// flipped about Y).
struct MilledShape {
    std::string id;  ///< "register-A", "hollow"
    std::string
        what;  ///< its size in words, both units; where it has no centre, how far it reaches in X and Y
    std::optional<plan::Point> centre_mm;  ///< of a round one
    bool through = false;
    std::optional<double> depth_mm;  ///< none: it stands out
};

/// In the plan's order: what stands out of the face, then what is cut into it.
std::vector<MilledShape> milled_shapes(const plan::Plan& plan, plan::Side side);

}  // namespace fitup::sheets
