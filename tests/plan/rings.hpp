#pragma once

#include <gtest/gtest.h>

#include <map>
#include <vector>

#include "plan/skin.hpp"

namespace fitup::plan::testing {

/// How a face runs along each of its rings (a contour at a height), metal's outside towards the eye: +1
/// anticlockwise seen from above.
using Senses = std::map<std::pair<std::size_t, double>, std::vector<int>>;

inline Senses senses_of(const Skin& skin) {
    Senses senses;
    for (const Wall& wall : skin.walls) {
        const int sense = wall.metal_inside ? 1 : -1;
        senses[{wall.contour, wall.z_low_mm}].push_back(sense);
        senses[{wall.contour, wall.z_high_mm}].push_back(-sense);
    }
    for (const Floor& floor : skin.floors) {
        const int sense = floor.faces_up ? 1 : -1;
        senses[{floor.outer, floor.z_mm}].push_back(sense);
        for (const std::size_t inner : floor.inner) senses[{inner, floor.z_mm}].push_back(-sense);
    }
    for (const Slope& slope : skin.slopes) {
        const int sense = slope.faces_up ? 1 : -1;
        senses[{slope.outer, slope.z_outer_mm}].push_back(sense);
        if (slope.inner) senses[{*slope.inner, slope.z_inner_mm}].push_back(-sense);
    }
    return senses;
}

/// Watertight by its combinatorics: every ring, its height equal to the last bit, bounds exactly two faces
/// that run along it in opposite senses; every face has height or area, and a name.
inline void expect_closed(const Skin& skin) {
    for (const auto& [ring, senses] : senses_of(skin)) {
        const bool is_sound = senses.size() == 2 && senses[0] + senses[1] == 0;
        EXPECT_TRUE(is_sound) << "contour " << ring.first << " at " << ring.second << ": " << senses.size()
                              << " faces";
    }
    for (const Wall& wall : skin.walls) {
        EXPECT_GT(wall.z_high_mm, wall.z_low_mm);
        EXPECT_FALSE(wall.name.empty());
    }
    for (const Floor& floor : skin.floors) EXPECT_FALSE(floor.name.empty());
    for (const Slope& slope : skin.slopes) {
        EXPECT_NE(slope.z_outer_mm, slope.z_inner_mm);
        EXPECT_FALSE(slope.name.empty());
    }
    EXPECT_FALSE(skin.touches_itself);
}

/// 2 x shells - 2 x handles. Walls and cones between two rings count nothing; a floor counts 1 less its inner
/// loops.
inline int euler_number(const Skin& skin) {
    int number = 0;
    for (const Floor& floor : skin.floors) number += 1 - static_cast<int>(floor.inner.size());
    for (const Slope& slope : skin.slopes) number += slope.inner ? 0 : 1;
    return number;
}

}  // namespace fitup::plan::testing
