#include "base/angle.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace fitup {
namespace {

TEST(Angle, quarter_turns_are_exact) {
    for (int quarters = -9; quarters <= 9; ++quarters) {
        const Angle angle = Angle::from_degrees(90.0 * quarters);
        const int phase = ((quarters % 4) + 4) % 4;
        EXPECT_EQ(angle.sin(), phase == 1 ? 1.0 : phase == 3 ? -1.0 : 0.0);
        EXPECT_EQ(angle.cos(), phase == 0 ? 1.0 : phase == 2 ? -1.0 : 0.0);
    }
}

TEST(Angle, agrees_with_the_standard_library_elsewhere) {
    for (double degrees = -720.0; degrees < 720.0; degrees += 7.3) {
        const Angle angle = Angle::from_degrees(degrees);
        EXPECT_NEAR(angle.sin(), std::sin(angle.radians()), 2e-15);
        EXPECT_NEAR(angle.cos(), std::cos(angle.radians()), 2e-15);
    }
}

TEST(Angle, radians_and_degrees_are_one_angle) {
    EXPECT_NEAR(Angle::from_radians(1.0).degrees(), 57.29577951308232, 1e-14);
}

}  // namespace
}  // namespace fitup
