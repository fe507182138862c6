#pragma once

#include <string>
#include <vector>

#include "plan/plan.hpp"

namespace fitup::sheets {

/// One operation at one hole, on the side it is made from. X and Y from the bore centre as that side lies on
/// the table: looking down at it, X to the right. Side B as in the plan; side A is flipped about Y, so X
/// changes sign.
///
/// A hole through the part is listed on its `from` side; a recess or countersink on its own. Depths count
/// from the plane of the face on that side, whatever was milled there before.
struct HoleLine {
    plan::Side side = plan::Side::B;
    std::string edge;  ///< "+Y" or "-Y" for a hole drilled into that edge; else ""
    std::string id;
    std::string kind;  ///< "clearance", "tapped", ..
    std::string
        operation;     ///< "drill", "tap drill", "tap", "ream", "ream at assembly", "bore", "counterbore", ..
    std::string tool;  ///< "drill 8.5 mm", "drill 5/16", "M10 tap", "reamer 12 mm H7"
    double x_mm = 0.0;
    double y_mm = 0.0;
    double diameter_mm = 0.0;
    bool through = false;
    double depth_mm = 0.0;  ///< full diameter
    double depth_with_point_mm =
        0.0;  ///< to the drill's tip; through a part: until the tip's full diameter is out
    /// Distance to the line before with the same tool, of the first one to zero (the bore centre): a check
    /// for the eye.
    double from_last_mm = 0.0;
    std::string
        note;  ///< limits of a fit, what is left for the assembly, what sinks into a recess; often empty
};

/// Every line: side B, then A; on each by tool in the order of work (bores, drills by size, counterbores,
/// countersinks, slots, taps, reamers, what is left for the assembly); with each tool a short way from zero
/// round all its holes and back.
std::vector<HoleLine> hole_lines(const plan::Plan& plan);

/// Holes drilled into an edge come last: their `side` is the edge, their y the height above the underside.
///
/// RFC 4180 CSV, one header row and one row a line, with both units; decimals fit for a readout (0.01 mm,
/// 0.0001 in). Radius and angle (anticlockwise from +X) are of the side as it lies.
std::string hole_list_csv(const plan::Plan& plan);

/// The same as plain text for the terminal, at most 100 columns wide while ids have at most 17 letters. A
/// title for each side says how it lies; each tool's round ends at zero, where the readout must say 0, 0.
std::string hole_list_table(const plan::Plan& plan);

}  // namespace fitup::sheets
