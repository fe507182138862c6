#pragma once

#include <string>
#include <vector>

#include "plan/plan.hpp"

namespace fitup::sheets {

/// One operation at one hole, on the side it is made from. X and Y from the bore centre as that side lies on the table:
/// looking down at it, X to the right. Side B as in the plan; side A is flipped about Y, so X changes sign.
struct HoleLine {
    plan::Side side = plan::Side::B;
    std::string id;
    std::string kind;       ///< "clearance", "tapped", ..
    std::string operation;  ///< "drill", "tap drill", "tap", "ream", "counterbore", "bore", ..
    std::string tool;       ///< "tap drill 8.5 mm", "M10 tap"
    double x_mm = 0.0;
    double y_mm = 0.0;
    double diameter_mm = 0.0;
    bool through = false;
    double depth_mm = 0.0;            ///< full diameter
    double depth_with_point_mm = 0.0;  ///< to the drill's tip
    double from_last_mm = 0.0;        ///< distance to the line before with the same tool: a check for the eye
};

/// Every line, side by side, sorted by tool and then by a short way round (nearest neighbour improved by 2-opt).
std::vector<HoleLine> hole_lines(const plan::Plan& plan);

/// RFC 4180 CSV with both units; decimals fit for a readout (0.01 mm, 0.0005 in).
std::string hole_list_csv(const plan::Plan& plan);

/// The same as a table for the terminal.
std::string hole_list_table(const plan::Plan& plan);

}  // namespace fitup::sheets
