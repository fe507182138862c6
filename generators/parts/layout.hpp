#pragma once

#include <variant>
#include <vector>

#include "base/angle.hpp"
#include "plan/plan.hpp"

namespace fitup::parts {

struct CircleLayout {
    double diameter_mm = 0.0;
    int count = 0;
    Angle start_angle;
    std::vector<int> skip;  ///< ordinals from 1
};
struct ClockLayout {
    double diameter_mm = 0.0;
    std::vector<double> hours;
};
struct PointsLayout {
    std::vector<plan::Point> points;
    std::vector<int> skip = {};  ///< ordinals from 1
};

/// Where the holes of a pattern lie, as one sees them.
struct Layout {
    std::variant<CircleLayout, ClockLayout, PointsLayout> places;
    Angle rotate;       ///< about the bore, before `shift`
    plan::Point shift;  ///< mm
};

/// A place with its ordinal in the pattern, from 1; skipped ordinals leave gaps.
struct NumberedPlace {
    int ordinal = 0;
    plan::Point at_mm;
};

/// Places in the plate's frame, mm: laid out, turned and shifted as seen, then X mirrored where seen from A.
/// Places on an axis come out exact.
std::vector<NumberedPlace> places(const Layout& layout, plan::Side seen_from);

/// Number of places, without laying them out.
std::size_t place_count(const Layout& layout);

/// A direction as seen, turned with the pattern, in the plate's frame.
Angle direction_in_plate(Angle as_seen, const Layout& layout, plan::Side seen_from);

}  // namespace fitup::parts
