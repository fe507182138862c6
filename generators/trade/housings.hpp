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

}  // namespace fitup::trade
