#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "plan/contour.hpp"

namespace fitup::plan {
namespace {

// Closed forms of textbooks: rectangle b h (b^2 + h^2) / 12 about its middle, disc pi r^4 / 2, and the
// parallel axis.
TEST(Moment, of_a_rectangle_about_its_middle_and_about_a_point_apart) {
    const Contour contour = rectangle({5, -3}, 40, 20, 0, Angle::from_degrees(30));
    const double own = 40.0 * 20.0 * (1600.0 + 400.0) / 12.0;
    EXPECT_NEAR(polar_moment_mm4(contour, {5, -3}), own, 1e-9 * own);
    const double about_origin = own + 800.0 * (25.0 + 9.0);
    EXPECT_NEAR(polar_moment_mm4(contour, {}), about_origin, 1e-9 * about_origin);
}

TEST(Moment, of_arcs_equals_that_of_the_whole_circle) {
    const double whole = polar_moment_mm4(Contour(Circle{{7, 2}, 12}), {1, 1});
    const double square = 12.0 * 12.0;
    EXPECT_NEAR(whole, std::numbers::pi * square * (37.0 + square / 2.0), 1e-9 * whole);
    // A slot is two half discs and a rectangle: each about the origin by the parallel axis from the slot's
    // middle.
    const Contour bean = slot({-10, 0}, {10, 0}, 8);
    double sum = 0.0;  // second way: strips across
    constexpr int strips = 400000;
    for (int i = 0; i < strips; ++i) {
        const double x = -14.0 + 28.0 * (i + 0.5) / strips;
        const double beyond = std::max(0.0, std::abs(x) - 10.0);
        const double half = std::sqrt(16.0 - beyond * beyond);
        sum += (2.0 * half * x * x + 2.0 / 3.0 * half * half * half) * 28.0 / strips;
    }
    EXPECT_NEAR(polar_moment_mm4(bean, {}), sum, 1e-7 * sum);
}

}  // namespace
}  // namespace fitup::plan
