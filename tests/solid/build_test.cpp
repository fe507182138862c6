#include <gtest/gtest.h>

#include <chrono>
#include <iostream>

#include "solid/plates.hpp"
#include "solid/sound.hpp"

namespace fitup::solid {
namespace {

using plan::Side;

/// Builds what nothing overlaps in, and holds it against the skin's closed form.
void expect_plain_sound(const plan::Plan& plan) {
    const plan::SkinResult skin = plan::skin(plan);
    ASSERT_TRUE(skin.overlapping.empty()) << skin.overlapping.front().id;
    ASSERT_TRUE(skin.overlapping_raised.empty());
    expect_sound(built(plan, skin), skin.skin);
}

TEST(Build, a_disc_with_a_bore) { expect_plain_sound(plates::round_plate()); }

TEST(Build, a_rectangle_with_rounded_corners) { expect_plain_sound(plates::rectangle_plate()); }

TEST(Build, a_sharp_cornered_outline_with_a_notch) {
    plan::Plan plan = plates::rectangle_plate();
    const std::vector<plan::Point> points{{-80, -60}, {80, -60}, {80, 60},  {20, 60},
                                          {20, 10},   {-20, 10}, {-20, 60}, {-80, 60}};
    plan.body.outline = *plan::polygon(points, 0.0);
    expect_plain_sound(plan);
    plan.body.outline = *plan::polygon(points, 6.0);
    expect_plain_sound(plan);
}

TEST(Build, a_hull_around_unequal_circles) {
    plan::Plan plan = plates::rectangle_plate();
    plan.body.outline =
        plan::hull(std::vector<plan::Circle>{{{-70, 0}, 20}, {{60, -40}, 12}, {{50, 55}, 30}});
    expect_plain_sound(plan);
}

TEST(Build, holes_with_recess_point_countersink_and_slot) {
    plan::Plan plan = plates::round_plate();
    plan.holes.push_back(plates::hole("recessed", {70, 0}, 9));
    plan.holes.back().recess = plan::Recess{Side::A, 20, 6, {}};
    plan.holes.push_back(plates::blind_hole("from-b", {0, 70}, 10, 12));
    plan.holes.push_back(plates::blind_hole("from-a", {-70, 0}, 10, 12, Side::A));
    plan.holes.push_back(plates::blind_hole("flat", {0, -70}, 10, 12));
    plan.holes.back().point_angle = {};
    plan.holes.push_back(plates::hole("sunk-b", {50, 50}, 8));
    plan.holes.back().countersink = plan::Countersink{Side::B, 16, Angle::from_degrees(90)};
    plan.holes.push_back(plates::hole("sunk-a", {50, -50}, 8));
    plan.holes.back().countersink = plan::Countersink{Side::A, 15, Angle::from_degrees(82)};
    plan.holes.push_back(plates::hole("slotted", {-50, 50}, 8));
    plan.holes.back().slot_length_mm = 17;
    plan.holes.back().slot_direction = Angle::from_degrees(30);
    expect_plain_sound(plan);
}

TEST(Build, registers_pockets_islands_and_through_windows) {
    plan::Plan plan = plates::round_plate();
    plan.raised.push_back({"register-A",
                           Side::A,
                           plan::Contour(plan::Circle{{0, 0}, 80}),
                           {plan::Contour(plan::Circle{{0, 0}, 75})},
                           5});
    plan.pockets.push_back(plates::relief("register-B", plan::Contour(plan::Circle{{0, 0}, 45}), Side::B, 6));
    plan.pockets.push_back(plates::relief("relief-1", plan::slot({52, 25}, {56, 32}, 12), Side::B, 7.5));
    plan.pockets.push_back(plates::relief(
        "relief-2", plan::rectangle({-60, -20}, 14, 10, 2, Angle::from_degrees(20)), Side::A, 20));
    plan.pockets.back().through = true;
    plan.pockets.push_back(plates::relief("relief-3", plan::Contour(plan::Circle{{0, -60}, 12}), Side::A, 8));
    plan.pockets.back().areas.front().islands.emplace_back(plan::Circle{{1, -60}, 5});
    expect_plain_sound(plan);
}

TEST(Build, a_modelled_edge_break_on_every_outline) {
    plan::Plan plan = plates::round_plate();
    plan.body.edge_break_mm = 1.5;
    plan.body.edge_break_modelled = true;
    expect_plain_sound(plan);
    plan.body.outline = plan::rectangle({0, 0}, 180, 140, 12, Angle::from_degrees(15));
    expect_plain_sound(plan);
    plan.body.outline = plan::rectangle({0, 0}, 180, 140, 0, Angle());
    expect_plain_sound(plan);
    const std::vector<plan::Point> points{{-80, -60}, {80, -60}, {80, 60},  {40, 60},
                                          {40, 45},   {-40, 45}, {-40, 60}, {-80, 60}};
    plan.body.outline = *plan::polygon(points, 5.0);
    expect_plain_sound(plan);
}

TEST(Build, six_hundred_holes) {
    for (const int count : {24, 60, 600}) {
        const plan::Plan plan = plates::many_holes(count);
        const plan::SkinResult skin = plan::skin(plan);
        ASSERT_TRUE(skin.overlapping.empty());
        const auto start = std::chrono::steady_clock::now();
        const Solid solid = built(plan, skin);
        const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
        std::cout << count << " holes: " << took.count() << " ms\n";
        if (count < 600) expect_sound(solid, skin.skin);
    }
}

}  // namespace
}  // namespace fitup::solid
