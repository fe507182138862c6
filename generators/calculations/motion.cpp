#include "calculations/motion.hpp"

#include <algorithm>
#include <cmath>

namespace fitup::calculations {

namespace {

Angle transmission_of(const Vector& along_rod, const Vector& path, const Vector& outward) {
    const double sine = std::clamp(std::abs(dot(along_rod, path)), 0.0, 1.0);
    const Angle angle = Angle::from_radians(std::asin(sine));
    // Obtuse where the rod leans away from the pivot.
    return dot(along_rod, outward) <= 0.0 ? angle : Angle::from_degrees(180.0 - angle.degrees());
}

LoopMotion loop_motion(const Circle& driving, const Loop& loop, const Turn& from, const Turn& to) {
    LoopMotion motion;
    const Vector outward = loop.outward(to), path = loop.path(to);
    motion.driving_pin = driving.at(from);
    motion.driven_pin = loop.at(to);
    motion.along_rod = unit(motion.driving_pin - motion.driven_pin);
    const double driven_mm = dot(motion.along_rod, path) * loop.radius_mm;
    const double driving_mm = dot(motion.along_rod, driving.path(from)) * driving.radius_mm;
    motion.ratio = driving_mm / driven_mm;
    motion.rad_per_mm = -1.0 / driven_mm;
    motion.transmission = transmission_of(motion.along_rod, path, outward);
    return motion;
}

}  // namespace

std::vector<LoopMotion> motion_of(const Chain& chain, const Pose& pose) {
    std::vector<LoopMotion> motion;
    for (std::size_t i = 0; i < chain.loops.size(); ++i)
        motion.push_back(loop_motion(chain.driving[i], chain.loops[i], pose.turns[i], pose.turns[i + 1]));
    return motion;
}

std::vector<double> carried_to_output(const std::vector<LoopMotion>& motion) {
    std::vector<double> carried(motion.size() + 1, 1.0);
    for (std::size_t i = motion.size(); i-- > 0;) carried[i] = carried[i + 1] * motion[i].ratio;
    return carried;
}

std::vector<double> output_rad_per_mm(const std::vector<LoopMotion>& motion) {
    const std::vector<double> carried = carried_to_output(motion);
    std::vector<double> rates;
    for (std::size_t i = 0; i < motion.size(); ++i) rates.push_back(motion[i].rad_per_mm * carried[i + 1]);
    return rates;
}

double lost_motion_rad(const std::vector<LoopMotion>& motion, double play_mm) {
    constexpr double joints_a_rod = 2.0;
    double lost_rad = 0.0;
    for (const double rate : output_rad_per_mm(motion)) lost_rad += joints_a_rod * play_mm * std::abs(rate);
    return lost_rad;
}

}  // namespace fitup::calculations
