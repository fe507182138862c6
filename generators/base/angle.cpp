#include "base/angle.hpp"

#include <cmath>
#include <numbers>

namespace fitup {

namespace {

constexpr double degrees_per_radian = 180.0 / std::numbers::pi;

/// Sine of an angle given in degrees; the argument is first brought into [-45, 45] so that quarter turns are
/// exact.
double sine_of_degrees(double degrees) {
    const double quarters = std::nearbyint(degrees / 90.0);
    const double rest_rad = std::remainder(degrees, 90.0) / degrees_per_radian;
    switch (static_cast<int>(std::fmod(std::fmod(quarters, 4.0) + 4.0, 4.0))) {
        case 0:
            return std::sin(rest_rad);
        case 1:
            return std::cos(rest_rad);
        case 2:
            return -std::sin(rest_rad);
        default:
            return -std::cos(rest_rad);
    }
}

}  // namespace

Angle Angle::from_radians(double radians) { return Angle(radians * degrees_per_radian); }
double Angle::radians() const { return degrees_ / degrees_per_radian; }
double Angle::sin() const { return sine_of_degrees(degrees_) + 0.0; }
double Angle::cos() const { return sine_of_degrees(degrees_ + 90.0) + 0.0; }
double Angle::tan() const { return sin() / cos(); }

}  // namespace fitup
