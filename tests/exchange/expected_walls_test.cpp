// What a file is compared with, found in two ways: from the plan's cuts alone, and on the skin that the file
// is built from.
#include <gtest/gtest.h>

#include <random>

#include "exchange/expected.hpp"
#include "plan/plates.hpp"
#include "plan/skin.hpp"

namespace fitup::exchange {
namespace {

using namespace plan::testing;
using plan::Plan;
using plan::Side;

class Dice {
  public:
    explicit Dice(unsigned seed) : engine_(seed) {}
    double number(double from, double to) {
        return std::uniform_real_distribution<double>(from, to)(engine_);
    }
    bool flip() { return engine_() % 2 == 0; }
    unsigned pick(unsigned count) { return static_cast<unsigned>(engine_() % count); }
    Side side() { return flip() ? Side::A : Side::B; }

  private:
    std::mt19937 engine_;
};

plan::Hole any_hole(Dice& dice, const std::string& id, plan::Point at, double thickness_mm) {
    const double diameter_mm = dice.number(3, 9);
    plan::Hole hole = dice.flip()
                          ? through_hole(id, at, diameter_mm)
                          : blind_hole(id, at, diameter_mm, dice.side(), dice.number(1, thickness_mm - 4));
    if (dice.pick(3) == 0) hole.point_angle.reset();
    if (dice.pick(3) == 0)
        hole.recess = plan::Recess{dice.side(), diameter_mm + dice.number(1, 8), dice.number(0.5, 8), {}};
    else if (dice.pick(3) == 0)
        hole.countersink = plan::Countersink{dice.side(), diameter_mm + dice.number(1, 8),
                                             Angle::from_degrees(dice.number(60, 120))};
    return hole;
}

/// Holes 30 mm apart, some under a pocket that takes the metal round them, some in a spigot.
Plan any_plate(Dice& dice) {
    const double thickness_mm = dice.number(14, 40);
    Plan plan = disc(460, thickness_mm);
    add(plan, bore(dice.number(20, 50)));
    if (dice.flip()) {
        const double inner_mm = dice.flip() ? plan.holes[0].diameter_mm / 2 : 30.0;
        plan.raised.push_back({"spigot",
                               dice.side(),
                               plan::Contour(plan::Circle{{}, dice.number(75, 85)}),
                               {plan::Contour(plan::Circle{{}, inner_mm})},
                               dice.number(2, 8)});
    }
    int number = 0;
    for (double x = -180; x <= 180; x += 30) {
        for (double y = -180; y <= 180; y += 30) {
            const double away_mm = std::hypot(x, y);
            const bool fits = (away_mm > 42 && away_mm < 64) || (away_mm > 96 && away_mm < 205);
            if (!fits || dice.pick(4) != 0) continue;
            const std::string id = std::to_string(++number);
            add(plan, any_hole(dice, "hole-" + id, {x, y}, thickness_mm));
            if (dice.pick(4) == 0)
                plan.pockets.push_back(pocket(
                    "relief-" + id, dice.side(), dice.number(0.5, 6),
                    {plan::rectangle({x, y}, 24, 26, dice.number(1, 4), Angle::from_degrees(dice.pick(3))),
                     {}}));
        }
    }
    return plan;
}

/// Every whole round wall of the skin, metal outside, by contour; those on one circle that touch are one.
std::vector<ExpectedWall> walls_of_skin(const plan::Skin& skin) {
    std::vector<ExpectedWall> walls;
    for (const plan::Wall& wall : skin.walls) {
        const plan::Circle* circle = skin.contours[wall.contour].circle();
        if (wall.metal_inside || !circle) continue;
        walls.push_back({wall.name, circle->centre, circle->radius_mm, wall.z_low_mm, wall.z_high_mm});
    }
    return walls;
}

bool is_same(const ExpectedWall& a, const ExpectedWall& b) {
    return plan::distance_mm(a.centre, b.centre) < 1e-9 && std::abs(a.radius_mm - b.radius_mm) < 1e-9 &&
           std::abs(a.low_mm - b.low_mm) < 1e-9 && std::abs(a.high_mm - b.high_mm) < 1e-9;
}

std::string text(const ExpectedWall& wall) {
    return wall.id + " d " + std::to_string(2 * wall.radius_mm) + " at " + std::to_string(wall.centre.x_mm) +
           ", " + std::to_string(wall.centre.y_mm) + ", z " + std::to_string(wall.low_mm) + " to " +
           std::to_string(wall.high_mm);
}

void expect_same(const std::vector<ExpectedWall>& one, const std::vector<ExpectedWall>& other) {
    for (const ExpectedWall& wall : one) {
        EXPECT_TRUE(std::any_of(other.begin(), other.end(), [&](const ExpectedWall& candidate) {
            return is_same(wall, candidate) && wall.id == candidate.id;
        })) << text(wall);
    }
}

constexpr unsigned seed = 4711;

TEST(ExpectedWalls, are_the_skins_walls_whenever_the_skin_holds_them_all) {
    std::printf("seed %u\n", seed);
    Dice dice(seed);
    int compared = 0;
    for (int i = 0; i < FITUP_PROPERTY_CASES; ++i) {
        const Plan plan = any_plate(dice);
        const plan::SkinResult skin = plan::skin(plan);
        if (!skin.overlapping.empty() || !skin.overlapping_raised.empty()) continue;
        ++compared;
        SCOPED_TRACE("plate " + std::to_string(i));
        std::vector<ExpectedWall> walls = expected_walls(plan, Metal(plan));
        std::erase_if(walls, [](const ExpectedWall& wall) { return !wall.is_hole || !wall.is_full; });
        for (const ExpectedWall& wall : walls) EXPECT_TRUE(wall.is_plain) << text(wall);
        const std::vector<ExpectedWall> of_skin = walls_of_skin(skin.skin);
        EXPECT_GT(walls.size(), 5u);
        expect_same(walls, of_skin);
        expect_same(of_skin, walls);
        if (HasFailure()) return;
    }
    std::printf("%d of %d compared\n", compared, FITUP_PROPERTY_CASES);
    EXPECT_GT(compared, FITUP_PROPERTY_CASES / 4);
}

/// A drill point or countersink is a slope of the skin that ends on its axis or at a circle.
TEST(ExpectedCones, are_the_skins_slopes) {
    Dice dice(seed + 1);
    for (int i = 0; i < FITUP_PROPERTY_CASES; ++i) {
        const Plan plan = any_plate(dice);
        const plan::SkinResult skin = plan::skin(plan);
        if (!skin.overlapping.empty() || !skin.overlapping_raised.empty()) continue;
        SCOPED_TRACE("plate " + std::to_string(i));
        const auto cones = expected_cones(plan, Metal(plan));
        EXPECT_EQ(cones.size(), skin.skin.slopes.size());
        for (const plan::Slope& slope : skin.skin.slopes) {
            const plan::Circle& wide = *skin.skin.contours[slope.outer].circle();
            const double narrow_mm = slope.inner ? skin.skin.contours[*slope.inner].circle()->radius_mm : 0.0;
            EXPECT_TRUE(std::any_of(cones.begin(), cones.end(), [&](const ExpectedCone& cone) {
                const bool is_up = cone.radius_high_mm > cone.radius_low_mm;
                return cone.id == slope.name && !cone.is_crossed &&
                       plan::distance_mm(cone.centre, wide.centre) < 1e-9 &&
                       std::abs((is_up ? cone.radius_high_mm : cone.radius_low_mm) - wide.radius_mm) < 1e-9 &&
                       std::abs((is_up ? cone.radius_low_mm : cone.radius_high_mm) - narrow_mm) < 1e-9 &&
                       std::abs((is_up ? cone.high_mm : cone.low_mm) - slope.z_outer_mm) < 1e-9 &&
                       std::abs((is_up ? cone.low_mm : cone.high_mm) - slope.z_inner_mm) < 1e-9;
            })) << slope.name;
        }
        if (HasFailure()) return;
    }
}

const ExpectedWall& wall_of(const std::vector<ExpectedWall>& walls, const std::string& id) {
    const auto found =
        std::find_if(walls.begin(), walls.end(), [&](const ExpectedWall& wall) { return wall.id == id; });
    if (found == walls.end()) throw std::runtime_error("no wall " + id);
    return *found;
}

TEST(ExpectedWalls, a_recess_and_a_pocket_shorten_the_shaft) {
    Plan plan = disc(200, 20);
    plan::Hole hole = through_hole("h", {50, 0}, 10);
    hole.recess = plan::Recess{Side::B, 18, 6, {}};
    add(plan, hole);
    plan.pockets.push_back(pocket("relief-1", Side::A, 3, {plan::Contour(plan::Circle{{50, 0}, 15}), {}}));
    const auto walls = expected_walls(plan, Metal(plan));
    ASSERT_EQ(walls.size(), 3u);
    EXPECT_NEAR(walls[0].low_mm, 3, 1e-12);
    EXPECT_NEAR(walls[0].high_mm, 14, 1e-12);
    EXPECT_NEAR(walls[1].low_mm, 14, 1e-12);
    EXPECT_NEAR(walls[1].high_mm, 20, 1e-12);
    EXPECT_EQ(walls[2].id, "relief-1");
    for (const ExpectedWall& wall : walls) EXPECT_TRUE(wall.is_plain);
}

TEST(ExpectedWalls, a_hole_goes_on_through_a_spigot_and_the_spigot_has_an_outside) {
    Plan plan = disc(200, 20);
    add(plan, bore(40));
    add(plan, through_hole("h", {35, 0}, 8));
    plan.raised.push_back(
        {"spigot-A", Side::A, plan::Contour(plan::Circle{{}, 50}), {plan::Contour(plan::Circle{{}, 20})}, 5});
    const auto walls = expected_walls(plan, Metal(plan));
    ASSERT_EQ(walls.size(), 3u);
    for (const char* id : {"bore", "h"}) {
        EXPECT_NEAR(wall_of(walls, id).low_mm, -5, 1e-12) << id;
        EXPECT_NEAR(wall_of(walls, id).high_mm, 20, 1e-12) << id;
    }
    const ExpectedWall& outside = wall_of(walls, "spigot-A");
    EXPECT_FALSE(outside.is_hole);
    EXPECT_NEAR(outside.low_mm, -5, 1e-12);
    EXPECT_NEAR(outside.high_mm, 0, 1e-12);
}

TEST(ExpectedWalls, one_that_a_relief_crosses_keeps_its_range_but_is_not_plain) {
    Plan plan = disc(200, 20);
    add(plan, through_hole("crossed", {60, 0}, 10));
    add(plan, through_hole("gone", {0, 60}, 10));
    plan.pockets.push_back(pocket("relief-1", Side::B, 8, {plan::Contour(plan::Circle{{68, 0}, 9}), {}}));
    plan.pockets.push_back(pocket("relief-2", Side::B, 20, {plan::Contour(plan::Circle{{0, 60}, 9}), {}}));
    const auto walls = expected_walls(plan, Metal(plan));
    const ExpectedWall& crossed = wall_of(walls, "crossed");
    EXPECT_FALSE(crossed.is_full);
    EXPECT_FALSE(crossed.is_plain);
    EXPECT_TRUE(crossed.is_level);
    EXPECT_NEAR(crossed.low_mm, 0, 1e-12);
    EXPECT_NEAR(crossed.high_mm, 20, 1e-12);
    EXPECT_THROW(wall_of(walls, "gone"), std::runtime_error);
}

}  // namespace
}  // namespace fitup::exchange
