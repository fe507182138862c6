#pragma once

#include <cmath>
#include <numbers>
#include <string>

#include "calculations/chain.hpp"
#include "calculations/linkage_reading.hpp"
#include "parameters/open_file.hpp"

/// Linkages for the tests.
namespace fitup::calculations::testing {

constexpr double rad = std::numbers::pi / 180.0;

inline Dimension of(double value) {
    Dimension dimension;
    dimension.value = value;
    return dimension;
}

inline Lever lever(const std::string& name, const Vector& pivot_mm, const Vector& axis, const Vector& rest,
                   double arm_mm) {
    Lever one;
    one.name = name;
    one.pivot_mm = pivot_mm;
    one.axis = unit(axis);
    one.rest = unit(rest);
    one.arm_in = one.arm_out = of(arm_mm);
    one.single_arm = true;
    return one;
}

/// Planar four-bar: fixed pivots d apart on the X axis, crank a, coupler b, rocker c, angles from +X.
inline Linkage four_bar(double d, double a, double b, double c) {
    Linkage linkage;
    linkage.levers = {lever("crank", {0, 0, 0}, {0, 0, 1}, {1, 0, 0}, a),
                      lever("rocker", {d, 0, 0}, {0, 0, 1}, {1, 0, 0}, c)};
    linkage.rods = {{"rod-1", of(b), {}}};
    return linkage;
}

inline double degrees_of(const Turn& turn) { return std::atan2(turn.sin, turn.cos) / rad; }

/// The output's angle in degrees on one branch of the only loop.
inline double output_deg(const Linkage& linkage, double input_deg, double branch) {
    return output_rad(chain_of(linkage, {branch}), input_deg * rad) / rad;
}

/// A joint's place worked out from the lever alone, apart from the chain.
inline Vector joint(const Lever& lever, const Dimension& arm, const Dimension& offset, double angle_rad) {
    const Vector across = cross(lever.axis, lever.rest);
    return lever.pivot_mm + lever.axis * offset.value +
           (lever.rest * std::cos(angle_rad) + across * std::sin(angle_rad)) * arm.value;
}

/// The deck winch's selector, every size settled.
inline Linkage winch() {
    Linkage linkage;
    linkage.name = "winch";
    linkage.levers = {lever("deck", {0, 0, 0}, {0, 0, 1}, {0, 1, 0}, 86),
                      lever("crank", {320, -25, 12}, {0, 0, 1}, {0, 1, 0}, 64),
                      lever("selector", {300, 180, 6}, {0, 0, 1}, {1, 0, 0}, 48)};
    linkage.levers[1].single_arm = false;
    linkage.levers[1].arm_out = of(29);
    linkage.levers[1].angle_between = of(-90);
    linkage.rods = {{"rod-1", of(326), {}}, {"rod-2", of(206), {}}};
    const auto deg = Angle::from_degrees;
    linkage.positions = {{"lower", deg(-30), deg(-24), deg(1.5), deg(2.5)},
                         {"hold", deg(-14), deg(-11), deg(2.5), deg(2.5)},
                         {"slow", deg(2), deg(1.5), deg(2.5), deg(2.5)},
                         {"mid", deg(16), deg(13), deg(2.5), deg(2.5)},
                         {"fast", deg(30), deg(24), deg(2.5), deg(2.5)}};
    linkage.stops.input = {deg(-31), deg(31)};
    linkage.stops.output = {deg(-25.5), deg(25.5)};
    linkage.play = {0.05, 0.3, true};
    linkage.tolerances = {0.25, 0.5, 0.5, true};
    linkage.builds = 200000;
    return linkage;
}

/// The same with three sizes to be solved for.
inline Linkage winch_to_solve() {
    Linkage linkage = winch();
    const auto between = [](double least, double most) {
        Dimension dimension = of((least + most) / 2.0);
        dimension.between = Bounds{least, most};
        return dimension;
    };
    linkage.levers[1].arm_out = between(25, 55);
    linkage.rods[0].length = between(300, 345);
    linkage.rods[1].length = between(190, 230);
    return linkage;
}

/// A spatial chain: tilted axes, offsets, two rods.
inline Linkage skew_chain() {
    Linkage linkage = winch();
    linkage.levers[1].axis = unit({0.1, -0.2, 1.0});
    linkage.levers[1].rest = unit(cross({1, 0, 0.3}, linkage.levers[1].axis));
    linkage.levers[1].rest = unit(cross(linkage.levers[1].axis, cross({0, 1, 0}, linkage.levers[1].axis)));
    linkage.levers[2].axis = unit({0.0, 0.25, 1.0});
    linkage.levers[2].rest = {1, 0, 0};
    linkage.levers[0].offset_out = of(7);
    linkage.levers[1].offset_in = of(-4);
    linkage.levers[1].offset_out = of(9);
    linkage.levers[2].offset_in = of(3);
    return linkage;
}

inline ReadLinkage read(const std::string& text, const std::string& file = "l.json") {
    const std::vector<std::string> kinds{"linkage"};
    return read_linkage(parameters::open_file(text, file, parameters::Role::calculation, kinds).document);
}

}  // namespace fitup::calculations::testing
