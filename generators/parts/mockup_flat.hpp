#pragma once

#include <optional>
#include <string>
#include <vector>

#include "plan/finding.hpp"
#include "plan/paper.hpp"
#include "plan/plan.hpp"

/// A mock-up's shape in the plane, at the size it is printed.
namespace fitup::parts {

/// A through cut that is no hole of its own: of a register, a relief, or where several meet.
struct Opening {
    std::string id;
    plan::Contour curve;
};

/// What is shown by its outline alone.
struct MarkedCurve {
    plan::Side side = plan::Side::B;
    plan::Contour curve;
};

/// What is shown by ledges that stand on a face.
struct LedgeRing {
    std::string id;
    plan::Side side = plan::Side::A;
    plan::Circle outside;
    double width_mm = 0.0;  ///< inwards
    double height_mm = 0.0;
};

struct Flat {
    double factor = 1.0;  ///< 1 / (1 - shrinkage)
    plan::Contour outline{plan::Circle{}};
    std::vector<plan::Hole> holes;  ///< the bore among them
    std::vector<Opening> openings;
    std::vector<MarkedCurve> marked;
    std::vector<LedgeRing> ledges;  ///< all on one side, so that a face lies flat on the bed
    plan::Findings findings;
};

Flat flat_of(const plan::Plan& plan, const plan::Mockup& settings);

/// One piece of metal, or what a joint cuts off it, with all that goes through it.
struct Region {
    plan::Contour outline;
    std::vector<Opening> openings;
    std::vector<plan::Hole> holes;
};

/// @param within  only what lies within it, with openings and the bore cut open by its edge; null: all
/// @returns largest first; nothing where the edges do not close
std::vector<Region> regions(const Flat& flat, const plan::Contour* within);

plan::Contour scaled(const plan::Contour& contour, double factor);
/// Half of the hole itself, a slot along its length.
double reach_mm(const plan::Hole& hole);
/// Any point of the curve.
plan::Point start_of(const plan::Contour& contour);

/// What the notes on a mock-up are named.
inline constexpr const char* mockup_rule = "mock-up";

}  // namespace fitup::parts
