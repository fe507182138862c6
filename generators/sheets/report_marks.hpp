#pragma once

#include <string>
#include <vector>

#include "plan/plan.hpp"

/// Where the report's view finds a row of its table on the part. Plain numbers in the part's frame, in mm.
namespace fitup::sheets {

/// The room that a hole takes: a round bar, or a slot's bar, along `axis`.
struct HoleMark {
    plan::Point3 base{};         ///< on the axis
    plan::Point3 axis{};         ///< unit, out of the face it is made from
    double low_mm = 0.0;         ///< along the axis from `base`, a drill's tip included
    double high_mm = 0.0;        ///< likewise
    double radius_mm = 0.0;      ///< greatest
    plan::Point3 half_slot{};    ///< from a slot's middle to the centre of its round end; else 0
    double low_mouth_mm = 0.0;   ///< radius where it comes out at `low_mm`; 0 where it does not
    double high_mouth_mm = 0.0;  ///< likewise at `high_mm`
};

HoleMark mark_of(const plan::Plan& plan, const plan::Hole& hole);
HoleMark mark_of(const plan::Plan& plan, const plan::CrossHole& hole);

/// A stretch of a rod: points along its centreline, and the rod's radius.
struct StretchMark {
    std::vector<plan::Point3> points;
    double radius_mm = 0.0;
};

/// Ends and bends in the order along the rod: first end, bends, last end. REQUIRES: a plan with a rod.
std::vector<StretchMark> rod_marks(const plan::Plan& plan);

/// As the page's script reads them: numbers with blanks between, in the order of the members.
std::string mark_text(const HoleMark& mark);
std::string mark_text(const StretchMark& mark);

}  // namespace fitup::sheets
