#include "calculations/dial.hpp"

#include <cmath>

namespace fitup::calculations {

namespace {

/// Sag goes with how far down the indicator hangs: half of it at 3 and 9.
DialReadings without_sag(DialReadings readings) {
    readings.at_3 -= readings.sag_mm / 2.0;
    readings.at_6 -= readings.sag_mm;
    readings.at_9 -= readings.sag_mm / 2.0;
    return readings;
}

}  // namespace

DialResult dial_in(const DialReadings& as_read) {
    const DialReadings readings = without_sag(as_read);
    DialResult result;
    const bool is_face = readings.face_diameter_mm > 0.0;
    // Inside a bore the wall is near, and the plunger pushed in, on the side away from where the bore lies.
    const double way = readings.outside || is_face ? 1.0 : -1.0;
    const double half = is_face ? 1.0 : 0.5;
    result.offset_mm = {way * half * (readings.at_3 - readings.at_9),
                        way * half * (readings.at_12 - readings.at_6)};
    result.total_offset_mm = std::hypot(result.offset_mm[0], result.offset_mm[1]);
    result.reading_mm = is_face ? result.total_offset_mm : 2.0 * result.total_offset_mm;
    result.move_mm = {0.0 - result.offset_mm[0], 0.0 - result.offset_mm[1]};
    result.sum_error_mm = (readings.at_12 + readings.at_6) - (readings.at_3 + readings.at_9);
    result.sum_agrees = std::abs(result.sum_error_mm) <= sum_agrees_within_mm + 1e-9;
    if (readings.again_at_12) {
        result.return_error_mm = *readings.again_at_12 - readings.at_12;
        result.returns = std::abs(*result.return_error_mm) <= returns_within_mm + 1e-9;
    }
    return result;
}

}  // namespace fitup::calculations
