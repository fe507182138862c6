// From pin to pin, and how far it can be set.
#include <algorithm>
#include <cmath>

#include "base/vector3.hpp"
#include "plan/rod_strength.hpp"

namespace fitup::plan {

namespace {

/// So much short of a half turn still is one: rounding of lengths given in inches.
constexpr double whole_turn = 1e-9;

int half_turns(double room_mm, double step_mm) {
    return static_cast<int>(std::floor(std::max(0.0, room_mm) / step_mm + whole_turn));
}

/// Outwards along an end's axis.
Vector outward(const Rod& rod, std::size_t end) {
    const std::size_t last = rod.corners.size() - 1;
    return end == 0 ? unit(rod.corners[0] - rod.corners[1]) : unit(rod.corners[last] - rod.corners[last - 1]);
}

Point3 end_of(const Rod& rod, std::size_t end) { return end == 0 ? rod.corners.front() : rod.corners.back(); }

/// Half turns outwards of one end's pin: `least` to `most` of them, `step` each.
struct Settings {
    Vector step{};
    int least = 0;
    int most = 0;
};

Settings settings(const Rod& rod, std::size_t end) {
    const auto found = adjustment(rod, end);
    if (!found) return {};
    return {outward(rod, end) * found->step_mm, -found->half_turns_in, found->half_turns_out};
}

/// The setting of the second pin, of those it has, that brings it nearest to a place `apart` away.
double least_distance_mm(const Vector& apart, const Settings& second) {
    const double square = dot(second.step, second.step);
    if (square == 0.0) return length(apart);
    const double best = std::round(-dot(apart, second.step) / square);
    return length(apart + second.step * std::clamp(best, double(second.least), double(second.most)));
}

double most_distance_mm(const Vector& apart, const Settings& second) {
    return std::max(length(apart + second.step * second.least), length(apart + second.step * second.most));
}

}  // namespace

std::optional<Adjustment> adjustment(const Rod& rod, std::size_t end) {
    const auto& fitting = rod.fittings[end];
    const RodEnd& made = rod.ends[end];
    if (!fitting || !made.thread) return {};
    Adjustment found;
    found.step_mm = made.thread->pitch_mm / 2.0;
    found.engaged_mm = fitting->engaged_mm;
    const double deepest_mm = std::min(fitting->thread_depth_mm, made.length_mm);
    found.half_turns_in = half_turns(deepest_mm - fitting->engaged_mm, found.step_mm);
    found.half_turns_out = half_turns(fitting->engaged_mm - made.thread->major_mm, found.step_mm);
    found.most_engaged_mm = found.engaged_mm + found.half_turns_in * found.step_mm;
    found.least_engaged_mm = found.engaged_mm - found.half_turns_out * found.step_mm;
    return found;
}

std::array<Point3, 2> pins(const Rod& rod) {
    std::array<Point3, 2> places{};
    for (const std::size_t end : {std::size_t{0}, std::size_t{1}}) {
        const auto& fitting = rod.fittings[end];
        const double beyond_mm = fitting ? fitting->pin_offset_mm - fitting->engaged_mm : 0.0;
        places[end] = end_of(rod, end) + outward(rod, end) * beyond_mm;
    }
    return places;
}

PinToPin pin_to_pin(const Rod& rod) {
    const auto [first, second] = pins(rod);
    const Vector apart = second - first;
    const Settings one = settings(rod, 0), other = settings(rod, 1);
    PinToPin reach{length(apart), length(apart), length(apart)};
    for (int turns = one.least; turns <= one.most; ++turns) {
        const Vector from_here = apart - one.step * turns;
        reach.least_mm = std::min(reach.least_mm, least_distance_mm(from_here, other));
        reach.most_mm = std::max(reach.most_mm, most_distance_mm(from_here, other));
    }
    return reach;
}

}  // namespace fitup::plan
