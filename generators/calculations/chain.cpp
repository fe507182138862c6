#include "calculations/chain.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace fitup::calculations {

namespace {

/// How far the rod is from reaching at the nearest point of the circle, over 0.
double gap_of(const Loop& loop, const Equation& e, double size) {
    const double middle = dot(e.from_centre, e.from_centre) + loop.radius_mm * loop.radius_mm;
    const double farthest = std::sqrt(std::max(0.0, middle + size));
    const double nearest = std::sqrt(std::max(0.0, middle - size));
    return e.c < 0.0 ? loop.rod_mm - farthest : nearest - loop.rod_mm;
}

Circle circle_of(const Lever& lever, double radius_mm, double offset_mm, Angle from_rest) {
    const Vector across = cross(lever.axis, lever.rest);
    const double c = from_rest.cos(), s = from_rest.sin();
    return {lever.pivot_mm + lever.axis * offset_mm, lever.rest * c + across * s, across * c - lever.rest * s,
            radius_mm};
}

Loop loop_of(const Lever& driven, double rod_mm, double branch) {
    return {circle_of(driven, driven.arm_in.value, driven.offset_in.value, Angle()), rod_mm, branch};
}

double angle_of(const Turn& turn) { return std::atan2(turn.sin, turn.cos); }

}  // namespace

std::array<Angle, 2> input_travel(const Linkage& linkage) {
    if (linkage.stops.input) return *linkage.stops.input;
    std::array<Angle, 2> travel{Angle(), Angle()};
    for (const WantedPosition& position : linkage.positions) {
        if (&position == &linkage.positions.front()) travel = {position.input, position.input};
        if (position.input.degrees() < travel[0].degrees()) travel[0] = position.input;
        if (position.input.degrees() > travel[1].degrees()) travel[1] = position.input;
    }
    return travel;
}

Closing close(const Loop& loop, const Vector& driving_pin) {
    const Equation e = equation_of(loop, driving_pin);
    const double size_sq = e.size_sq();
    const double rest = size_sq - e.c * e.c;
    if (rest >= 0.0 && size_sq > 0.0) return {turn_of(e, e.c, loop.branch * std::sqrt(rest)), 0.0};
    const double size = std::sqrt(size_sq);
    const Turn nearest = size > 0.0 ? turn_of(e, std::copysign(size, e.c), 0.0) : Turn{};
    // A pin on the axis itself is as far from every point of the circle: it closes nowhere or everywhere.
    return {nearest, std::max(gap_of(loop, e, size), std::numeric_limits<double>::min())};
}

Chain chain_of(const Linkage& linkage, const std::vector<double>& branches) {
    Chain chain;
    for (std::size_t i = 0; i < linkage.rods.size(); ++i) {
        const Lever& driving = linkage.levers[i];
        const Angle between = i > 0 ? Angle::from_degrees(driving.angle_between.value) : Angle();
        chain.driving.push_back(circle_of(driving, driving.arm_out.value, driving.offset_out.value, between));
        chain.loops.push_back(loop_of(linkage.levers[i + 1], linkage.rods[i].length.value,
                                      i < branches.size() ? branches[i] : 1.0));
    }
    return chain;
}

Pose pose_at(const Chain& chain, double input_rad) {
    Pose pose;
    Turn turn{std::cos(input_rad), std::sin(input_rad)};
    pose.turns.push_back(turn);
    for (std::size_t i = 0; i < chain.loops.size(); ++i) {
        const Closing closing = close(chain.loops[i], chain.driving[i].at(turn));
        if (closing.gap_mm > 0.0 && pose.gap_mm == 0.0) {
            pose.gap_mm = closing.gap_mm;
            pose.open_rod = i;
        }
        turn = closing.turn;
        pose.turns.push_back(turn);
    }
    return pose;
}

double output_rad(const Chain& chain, double input_rad) {
    Turn turn{std::cos(input_rad), std::sin(input_rad)};
    for (std::size_t i = 0; i < chain.loops.size(); ++i) {
        const Loop& loop = chain.loops[i];
        const Equation e = equation_of(loop, chain.driving[i].at(turn));
        const double size_sq = e.size_sq();
        const double rest = size_sq - e.c * e.c;
        if (!(rest >= 0.0 && size_sq > 0.0)) return std::numeric_limits<double>::quiet_NaN();
        turn = turn_of(e, e.c, loop.branch * std::sqrt(rest));
    }
    return angle_of(turn);
}

namespace {

/// The branch whose levers are nearest their rest at one input, loop by loop; nothing where a loop is open.
std::optional<std::vector<double>> branches_at(const Linkage& linkage, double input_rad) {
    Chain chain = chain_of(linkage, std::vector<double>(linkage.rods.size(), 1.0));
    std::vector<double> branches;
    Turn turn{std::cos(input_rad), std::sin(input_rad)};
    for (std::size_t i = 0; i < chain.loops.size(); ++i) {
        const Vector pin = chain.driving[i].at(turn);
        chain.loops[i].branch = 1.0;
        const Closing first = close(chain.loops[i], pin);
        if (first.gap_mm > 0.0) return {};
        chain.loops[i].branch = -1.0;
        const Closing second = close(chain.loops[i], pin);
        const bool takes_first = first.turn.cos >= second.turn.cos;
        branches.push_back(takes_first ? 1.0 : -1.0);
        turn = takes_first ? first.turn : second.turn;
    }
    return branches;
}

}  // namespace

std::optional<std::vector<double>> branches_of(const Linkage& linkage) {
    if (auto branches = branches_at(linkage, 0.0)) return branches;
    constexpr int steps = 720;
    const auto travel = input_travel(linkage);
    const double least_rad = std::min(0.0, travel[0].radians()),
                 most_rad = std::max(0.0, travel[1].radians());
    for (int i = 1; i <= steps; ++i) {
        for (const double end_rad : {least_rad, most_rad}) {
            if (auto branches = branches_at(linkage, end_rad * i / steps)) return branches;
        }
    }
    return {};
}

}  // namespace fitup::calculations
