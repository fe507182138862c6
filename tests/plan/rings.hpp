#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <map>

#include "plan/skin.hpp"

namespace fitup::plan::testing {

/// Every ring (a contour at a height) of a closed skin bounds exactly two faces: a wall and a floor or slope,
/// or a slope and a floor where no wall stands between them.
inline void expect_closed(const Skin& skin) {
    using Ring = std::pair<std::size_t, long long>;
    std::map<Ring, int> walls, flats;
    const auto ring = [](std::size_t contour, double z_mm) {
        return Ring{contour, std::llround(z_mm * 1e6)};
    };
    for (const Wall& wall : skin.walls) {
        EXPECT_GT(wall.z_high_mm - wall.z_low_mm, 0.0);
        EXPECT_FALSE(wall.name.empty());
        ++walls[ring(wall.contour, wall.z_low_mm)];
        ++walls[ring(wall.contour, wall.z_high_mm)];
    }
    for (const Floor& floor : skin.floors) {
        EXPECT_FALSE(floor.name.empty());
        ++flats[ring(floor.outer, floor.z_mm)];
        for (const std::size_t inner : floor.inner) ++flats[ring(inner, floor.z_mm)];
    }
    for (const Slope& slope : skin.slopes) {
        ++flats[ring(slope.outer, slope.z_outer_mm)];
        if (slope.inner) ++flats[ring(*slope.inner, slope.z_inner_mm)];
    }
    for (const auto& [place, count] : walls)
        EXPECT_EQ(count, flats[place]) << "contour " << place.first << " at " << place.second;
    for (const auto& [place, count] : flats)
        EXPECT_EQ(count + walls[place], 2) << "contour " << place.first << " at " << place.second;
}

}  // namespace fitup::plan::testing
