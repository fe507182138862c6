#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "plan/metal.hpp"
#include "plan/plates.hpp"
#include "plan/rings.hpp"

// Whole plates against a probe along Z at many points (metal.hpp), which knows no contours, trees or
// columns.
namespace fitup::plan {
namespace {

using namespace testing;
using std::numbers::pi;

/// The probe errs along the edges alone: with its points 0.4 mm apart well under this.
constexpr double grid_error = 1e-3;

void expect_as_probed(const Plan& plan) {
    const SkinResult result = skin(plan);
    expect_closed(result.skin);
    EXPECT_TRUE(result.overlapping.empty());
    ASSERT_TRUE(result.volume_mm3);
    EXPECT_EQ(*result.volume_mm3, result.skin.volume_mm3);
    EXPECT_NEAR(*result.volume_mm3 / probed_volume_mm3(plan, 160000), 1.0, grid_error);
}

Raised ring(Side side, double outer_mm, double bore_mm, double height_mm) {
    return {"spigot", side, Contour(Circle{{}, outer_mm / 2}), {Contour(Circle{{}, bore_mm / 2})}, height_mm};
}

Plan rich_plate() {
    Plan plan = disc(200, 24);
    add(plan, bore(60));
    plan.raised.push_back(ring(Side::A, 150, 130, 5));
    plan.pockets.push_back(pocket("register-B", Side::B, 6, {Contour(Circle{{}, 45}), {}}));
    Hole sunk = through_hole("sunk", {87, 0}, 9);
    sunk.recess = Recess{Side::B, 20, 7, {}};
    add(plan, sunk);
    Hole screw = through_hole("screw", {0, 85}, 8);
    screw.countersink = Countersink{Side::A, 16, Angle::from_degrees(90)};
    add(plan, screw);
    add(plan, blind_hole("in-register", {38, 5}, 8, Side::B, 16));
    add(plan, blind_hole("through-ring", {-70, 0}, 6, Side::A, 10));
    add(plan, blind_hole("under-register", {0, -38}, 7, Side::A, 9));
    return plan;
}

TEST(SkinVolume, a_plate_with_everything_on_it) { expect_as_probed(rich_plate()); }

TEST(SkinVolume, a_hole_through_a_spigot_ring_takes_the_ring_too) {
    Plan plan = disc(120, 10);
    add(plan, bore(30));
    plan.raised.push_back(ring(Side::A, 90, 60, 5));
    const double before = *skin(plan).volume_mm3;
    add(plan, blind_hole("a", {37, 0}, 6, Side::A, 4));
    expect_as_probed(plan);
    const double point = pi / 3 * 27 / std::tan(59 * pi / 180);
    EXPECT_NEAR(before - *skin(plan).volume_mm3, pi * 9 * (4 + 5) + point, 1e-9);
}

TEST(SkinVolume, a_hole_from_the_other_side_leaves_the_ring_over_it) {
    Plan plan = disc(120, 10);
    plan.raised.push_back(ring(Side::A, 90, 60, 5));
    Hole deep = blind_hole("b", {37, 0}, 6, Side::B, 8);
    deep.point_angle.reset();
    add(plan, deep);
    expect_as_probed(plan);
    EXPECT_NEAR(*skin(plan).volume_mm3, pi * (3600 * 10 + (2025 - 900) * 5 - 9 * 8), 1e-9);
}

TEST(SkinVolume, a_spigot_without_a_bore_is_a_boss) {
    Plan plan = disc(120, 10);
    Raised boss = ring(Side::B, 50, 10, 7);
    boss.inner.clear();
    plan.raised.push_back(boss);
    expect_as_probed(plan);
    EXPECT_EQ(skin(plan).skin.box.most[2], 17.0);
}

TEST(SkinVolume, a_ring_may_stand_out_over_the_outline) {
    Plan plan = disc(100, 10);
    plan.raised.push_back(ring(Side::A, 130, 40, 5));
    expect_as_probed(plan);
    EXPECT_EQ(skin(plan).skin.box.least[0], -65.0);
    EXPECT_EQ(skin(plan).skin.pieces, 1);
}

TEST(SkinVolume, a_ring_as_wide_as_the_outline_continues_its_wall) {
    Plan plan = disc(100, 10);
    plan.raised.push_back(ring(Side::A, 100, 80, 5));
    expect_as_probed(plan);
    EXPECT_EQ(skin(plan).skin.walls.size(), 2u);
}

/// A recess deeper than its blind hole swallows it; one from the other side may not.
TEST(SkinVolume, a_recess_deeper_than_its_hole) {
    Plan plan = disc(100, 30);
    Hole hole = blind_hole("a", {10, 0}, 8, Side::B, 9);
    hole.recess = Recess{Side::B, 20, 14, {}};
    add(plan, hole);
    expect_as_probed(plan);
    EXPECT_NEAR(*skin(plan).volume_mm3, pi * (2500 * 30 - 100 * 14), 1e-9);
}

TEST(SkinVolume, a_recess_from_the_other_side_above_a_blind_hole) {
    Plan plan = disc(100, 30);
    Hole hole = blind_hole("a", {10, 0}, 8, Side::B, 9);
    hole.recess = Recess{Side::A, 20, 14, {}};
    add(plan, hole);
    expect_as_probed(plan);
}

TEST(SkinVolume, coaxial_holes_from_both_sides_meet_in_the_drill_point) {
    Plan plan = disc(100, 30);
    add(plan, blind_hole("wide", {10, 0}, 14, Side::B, 20));
    add(plan, through_hole("narrow", {10, 0}, 5));
    expect_as_probed(plan);
    const double cut_cone = pi / 3 * (49 + 7 * 2.5 + 6.25) * (7 - 2.5) / std::tan(59 * pi / 180);
    const double below = pi * 6.25 * (10 - (7 - 2.5) / std::tan(59 * pi / 180));
    EXPECT_NEAR(*skin(plan).volume_mm3, pi * (2500 * 30 - 49 * 20) - cut_cone - below, 1e-9);
}

TEST(SkinVolume, a_countersink_that_reaches_the_far_face) {
    for (const double thickness : {2.0, 3.0}) {
        Plan plan = disc(60, thickness);
        Hole hole = through_hole("a", {}, 6);
        hole.countersink = Countersink{Side::B, 12, Angle::from_degrees(90)};
        add(plan, hole);
        expect_as_probed(plan);
    }
}

TEST(SkinVolume, floors_at_one_height_in_nested_cuts_are_one_floor) {
    Plan plan = disc(100, 30);
    Hole hole = through_hole("a", {10, 0}, 6);
    hole.recess = Recess{Side::B, 14, 8, {}};
    add(plan, hole);
    plan.pockets.push_back(pocket("relief-1", Side::B, 8, {Contour(Circle{{5, 0}, 30}), {}}));
    expect_as_probed(plan);
    EXPECT_EQ(skin(plan).skin.floors.size(), 3u);
    EXPECT_EQ(skin(plan).skin.walls.size(), 3u);
}

TEST(SkinVolume, islands_of_a_hollow_carry_holes_and_hold_pockets) {
    Plan plan = disc(200, 30);
    plan.pockets.push_back(
        pocket("hollow", Side::A, 20,
               {Contour(Circle{{}, 80}), {Contour(Circle{{40, 0}, 20}), Contour(Circle{{-40, 0}, 15})}}));
    plan.pockets.push_back(pocket("relief-1", Side::A, 4, {Contour(Circle{{40, 0}, 12}), {}}));
    add(plan, through_hole("a", {40, 0}, 8));
    add(plan, blind_hole("b", {-40, 0}, 8, Side::A, 12));
    add(plan, blind_hole("c", {0, 30}, 8, Side::B, 4));
    expect_as_probed(plan);
}

TEST(SkinVolume, broken_edges_of_round_square_and_rounded_outlines) {
    const std::vector<Point> corners{{-40, -30}, {50, -20}, {30, 45}, {-35, 25}};
    const std::vector<Circle> circles{{{-40, 0}, 20}, {{40, 10}, 12}, {{0, 40}, 15}};
    for (const Contour& outline :
         {Contour(Circle{{}, 50}), rectangle({}, 80, 50, 0, Angle::from_degrees(20)),
          rectangle({}, 80, 50, 9, Angle()), *polygon(corners, 0), *polygon(corners, 6), hull(circles)}) {
        for (const double size : {0.5, 4.0, 5.0}) {
            Plan plan = disc(1, 10);
            plan.body.outline = outline;
            plan.body.edge_break_mm = size;
            plan.body.edge_break_modelled = true;
            add(plan, through_hole("a", {0, 0}, 10));
            EXPECT_FALSE(skin(plan).edge_break_left_out);
            expect_as_probed(plan);
            EXPECT_EQ(skin(plan).skin.slopes.size(), 2u);
        }
    }
}

TEST(SkinVolume, an_edge_break_wider_than_an_arc_or_half_the_plate_is_left_out) {
    Plan plan = disc(1, 10);
    plan.body.outline = rectangle({}, 80, 50, 2, Angle());
    plan.body.edge_break_modelled = true;
    for (const double size : {3.0, 6.0}) {
        plan.body.edge_break_mm = size;
        const SkinResult result = skin(plan);
        EXPECT_TRUE(result.edge_break_left_out);
        EXPECT_TRUE(result.skin.slopes.empty());
        expect_closed(result.skin);
    }
}

/// Area is the change of volume with size: growing a hole's radius by h takes its wall's area times h.
TEST(SkinArea, is_the_change_of_volume_with_a_radius) {
    const double h = 1e-4;
    const auto volume = [](double grow) {
        Plan plan = rich_plate();
        plan.holes[1].diameter_mm += 2 * grow;
        return *skin(plan).volume_mm3;
    };
    const double slope = (volume(-h) - volume(h)) / (2 * h);
    EXPECT_NEAR(slope, 2 * pi * 4.5 * (24 - 7), 1e-4);
}

TEST(SkinArea, of_cones_and_steps_by_hand) {
    Plan plan = disc(100, 20);
    Hole hole = blind_hole("a", {10, 0}, 8, Side::B, 12);
    hole.recess = Recess{Side::B, 14, 3, {}};
    add(plan, hole);
    const double faces = 2 * pi * 2500 + 2 * pi * 50 * 20 - pi * 49;
    const double steps = pi * (49 - 16) + 2 * pi * 7 * 3 + 2 * pi * 4 * 9;
    const double cone = pi * 4 * 4 / std::sin(59 * pi / 180);
    EXPECT_NEAR(skin(plan).skin.area_mm2, faces + steps + cone, 1e-9);
}

TEST(SkinShape, handles_are_the_through_holes) {
    Plan plan = disc(200, 20);
    for (int k = 0; k < 7; ++k) add(plan, through_hole("h-" + std::to_string(k), {-60.0 + 20 * k, 0}, 8));
    add(plan, blind_hole("blind", {0, 50}, 8, Side::A, 5));
    EXPECT_EQ(euler_number(skin(plan).skin), 2 - 2 * 7);
    EXPECT_EQ(euler_number(skin(rich_plate()).skin), 2 - 2 * 3);
}

}  // namespace
}  // namespace fitup::plan
