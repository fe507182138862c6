// Outlines of cranks: against a membership rule worked out apart (inside a belt, or where a disc of the inner
// radius cannot reach), and areas in closed form.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "plan/contour.hpp"
#include "plan/vector.hpp"

namespace fitup::plan {
namespace {

Point toward(double degrees, double length_mm) {
    const double angle_rad = degrees * std::numbers::pi / 180.0;
    return Point{std::cos(angle_rad), std::sin(angle_rad)} * length_mm;
}

/// Distance outside the belt round two circles, negative inside: of a cone of circles the least over their
/// row.
double outside_belt_mm(const Circle& hub, const Circle& eye, Point point) {
    double least_mm = 1e300;
    constexpr int steps = 20000;
    for (int i = 0; i <= steps; ++i) {
        const double share = double(i) / steps;
        const Point middle = hub.centre + (eye.centre - hub.centre) * share;
        const double radius_mm = hub.radius_mm + (eye.radius_mm - hub.radius_mm) * share;
        least_mm = std::min(least_mm, distance_mm(middle, point) - radius_mm);
    }
    return least_mm;
}

/// Radius of the one arc that bends inward; 0: there is none.
double inner_arc_radius_mm(const Contour& contour) {
    double radius_mm = 0.0;
    for (const Edge& edge : contour.edges()) {
        if (edge.arc && edge.arc->turn == Turn::clockwise)
            radius_mm = distance_mm(edge.from, edge.arc->centre);
    }
    return radius_mm;
}

TEST(CrankOutline, one_arm_is_the_belt_round_hub_and_eye) {
    const Circle hub{{}, 15};
    const std::array eyes{Circle{{60, 0}, 8}};
    const auto outline = crank_outline(hub, eyes, 10);
    ASSERT_TRUE(outline);
    // Two triangles' worth of side, and what each circle has beyond its tangent points.
    const double beta = std::acos(7.0 / 60.0);
    const double side_mm = std::sqrt(60.0 * 60.0 - 49.0);
    const double area = (15.0 + 8.0) * side_mm + 15.0 * 15.0 * (std::numbers::pi - beta) + 64.0 * beta;
    EXPECT_NEAR(outline->area_mm2(), area, 1e-9 * area);
    EXPECT_EQ(outline->edges().size(), 4u);
}

TEST(CrankOutline, two_square_arms_with_a_rounded_corner) {
    const Circle hub{{}, 15};
    const std::array eyes{Circle{{64, 0}, 9}, Circle{{0, -32}, 9}};
    for (const double radius_mm : {0.0, 3.0, 10.0}) {
        SCOPED_TRACE(radius_mm);
        const auto outline = crank_outline(hub, eyes, radius_mm);
        ASSERT_TRUE(outline);
        EXPECT_NEAR(inner_arc_radius_mm(*outline), radius_mm, 1e-9);
        EXPECT_TRUE(lies_within(Contour(hub), *outline));
        EXPECT_TRUE(lies_within(Contour(eyes[0]), *outline));
        EXPECT_TRUE(lies_within(Contour(eyes[1]), *outline));
        EXPECT_FALSE(lies_within(Contour(Circle{{64, 0}, 9.001}), *outline));
    }
}

TEST(CrankOutline, a_rounding_adds_what_the_corner_between_two_tangents_holds) {
    const Circle hub{{}, 15};
    // Arms as wide as the hub: the corner is square at 15, -15, and a fillet adds (1 - pi / 4) r^2.
    const std::array eyes{Circle{{64, 0}, 15}, Circle{{0, -70}, 15}};
    const double sharp = crank_outline(hub, eyes, 0)->area_mm2();
    const double rounded = crank_outline(hub, eyes, 10)->area_mm2();
    EXPECT_NEAR(rounded - sharp, (1.0 - std::numbers::pi / 4.0) * 100.0, 1e-9 * rounded);
}

TEST(CrankOutline, an_eye_inside_the_hub_or_twice_gives_none) {
    const Circle hub{{}, 15};
    EXPECT_FALSE(crank_outline(hub, std::array{Circle{{4, 0}, 8}}, 5));
    EXPECT_FALSE(crank_outline(hub, std::array{Circle{{40, 0}, 8}, Circle{{40, 0}, 8}}, 5));
}

TEST(CrankOutline, random_sharp_cranks_hold_what_their_belts_hold) {
    constexpr unsigned seed = 20;
    std::mt19937 random(seed);
    const auto number = [&](double least, double most) {
        return std::uniform_real_distribution<double>(least, most)(random);
    };
    for (int i = 0; i < 60; ++i) {
        SCOPED_TRACE("case " + std::to_string(i) + " of seed " + std::to_string(seed));
        const Circle hub{{}, number(8, 25)};
        std::vector<Circle> eyes;
        double angle = number(-180, 180);
        for (int arm = 0; arm < 1 + i % 3; ++arm) {
            eyes.push_back({toward(angle, number(35, 120)), number(5, 20)});
            angle += number(40, 120);
        }
        const double radius_mm = i % 2 == 0 ? 0.0 : number(1, 15);
        const auto outline = crank_outline(hub, eyes, radius_mm);
        ASSERT_TRUE(outline);
        for (int k = 0; k < 40; ++k) {
            const Point point{number(-130, 130), number(-130, 130)};
            double outside_mm = 1e300;
            for (const Circle& eye : eyes)
                outside_mm = std::min(outside_mm, outside_belt_mm(hub, eye, point));
            if (outside_mm < -1e-3) {
                EXPECT_TRUE(outline->contains(point));
            }
            // Beyond a rounding's reach nothing is added.
            if (outside_mm > radius_mm + 1e-3) {
                EXPECT_FALSE(outline->contains(point));
            }
        }
    }
}

}  // namespace
}  // namespace fitup::plan
