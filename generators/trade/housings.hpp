#pragma once

#include <span>
#include <string>

#include "trade/trade.hpp"

namespace fitup::trade {

/// Industrial flywheel face, SAE J620. Only looked up; no part is made from it.
struct Flywheel {
    std::string designation;  ///< nominal clutch size in inches
    double pilot_mm = 0.0;
    double bolt_circle_mm = 0.0;
    int hole_count = 0;
    std::string thread;
    double recess_depth_mm = 0.0;
    double pilot_bearing_mm = 0.0;
    Source source;
};
std::span<const Flywheel> flywheels();

/// How far bore and face of a flywheel housing may run out on the crank, full indicator reading in mm: of the
/// housing whose pilot bore is nearest. SAE J617 and J1033 as a clutch maker's manual prints them.
double housing_reading_mm(double pilot_mm);
inline constexpr const char* housing_reading_source = "SAE J617 and J1033, in a clutch maker's manual";

}  // namespace fitup::trade
