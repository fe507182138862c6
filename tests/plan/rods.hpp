#pragma once

#include <rapidcheck.h>

#include <cmath>

#include "base/vector3.hpp"
#include "plan/rod_path.hpp"

/// Rods for tests.
namespace fitup::plan::testing {

inline Rod bare_rod(double diameter_mm, double bend_radius_mm, std::vector<Point3> corners) {
    Rod rod;
    rod.diameter_mm = diameter_mm;
    rod.bend_radius_mm = bend_radius_mm;
    rod.corners = std::move(corners);
    for (RodEnd& end : rod.ends) end.diameter_mm = diameter_mm;
    return rod;
}

inline double any_number(double least, double most) {
    return least + (most - least) * *rc::gen::inRange(0, 100001) / 1e5;
}

/// Any rod that can be bent: one to four straights beyond the first, each in a new direction, as long as its
/// roundings take and a little more (or nothing more). Not judged for running into itself.
inline Rod any_rod() {
    Rod rod = bare_rod(any_number(3, 12), 0, {});
    rod.bend_radius_mm = rod.diameter_mm * any_number(1.0, 4.0);
    Point3 at{any_number(-100, 100), any_number(-100, 100), any_number(-100, 100)};
    const int straights = *rc::gen::inRange(1, 6);
    std::vector<Point3> ways;
    for (int i = 0; i < straights; ++i) {
        // Directions that turn by 10 to 150 degrees from the one before, any way round.
        const double turn = any_number(10, 150) * 3.14159265358979 / 180.0, round = any_number(0, 6.28);
        const Point3 local{std::cos(turn), std::sin(turn) * std::cos(round),
                           std::sin(turn) * std::sin(round)};
        if (i == 0) {
            ways.push_back(local);
            continue;
        }
        const Point3 x = ways.back();
        const Point3 helper = std::abs(x[0]) < 0.6 ? Point3{1, 0, 0} : Point3{0, 1, 0};
        const Point3 y = unit(cross(x, helper)), z = cross(x, y);
        ways.push_back(unit(x * local[0] + y * local[1] + z * local[2]));
    }
    const auto setback = [&](std::size_t i) {
        if (i == 0 || i >= ways.size()) return 0.0;
        const double cosine = dot(ways[i - 1], ways[i]);
        return rod.bend_radius_mm * std::sqrt((1 - cosine) / (1 + cosine));
    };
    rod.corners.push_back(at);
    for (std::size_t i = 0; i < ways.size(); ++i) {
        const bool at_end = i == 0 || i + 1 == ways.size();
        const double more = at_end ? any_number(40, 120) : *rc::gen::element(0.0, 5.0, 60.0);
        at = at + ways[i] * (setback(i) + setback(i + 1) + more);
        rod.corners.push_back(at);
    }
    return rod;
}

}  // namespace fitup::plan::testing
