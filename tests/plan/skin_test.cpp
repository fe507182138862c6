#include "plan/skin.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "plan/plates.hpp"
#include "plan/rings.hpp"

namespace fitup::plan {
namespace {

using namespace testing;
using std::numbers::pi;

constexpr double tan59 = 1.6642794823505174;  // half of a 118-degree drill point

double disc_volume(double diameter_mm, double height_mm) {
    return pi / 4.0 * diameter_mm * diameter_mm * height_mm;
}
double point_volume(double diameter_mm) { return pi / 3.0 * std::pow(diameter_mm / 2.0, 3) / tan59; }

void expect_volume(const SkinResult& result, double volume_mm3) {
    ASSERT_TRUE(result.volume_mm3);
    EXPECT_NEAR(*result.volume_mm3 / volume_mm3, 1.0, 1e-12);
}

TEST(Skin, a_bare_disc) {
    const SkinResult result = skin(disc(100, 10));
    expect_closed(result.skin);
    expect_volume(result, disc_volume(100, 10));
    EXPECT_EQ(result.skin.pieces, 1);
    EXPECT_NEAR(result.skin.area_mm2, 2 * disc_volume(100, 1) + pi * 100 * 10, 1e-9);
    EXPECT_EQ(result.skin.walls.size(), 1u);
    EXPECT_EQ(result.skin.floors.size(), 2u);
}

TEST(Skin, blind_holes_from_both_sides_keep_their_points) {
    Plan plan = disc(100, 20);
    add(plan, blind_hole("a", {20, 0}, 10, Side::A, 8));
    add(plan, blind_hole("b", {-20, 0}, 8, Side::B, 12));
    const SkinResult result = skin(plan);
    expect_closed(result.skin);
    expect_volume(result, disc_volume(100, 20) - disc_volume(10, 8) - point_volume(10) - disc_volume(8, 12) -
                              point_volume(8));
    EXPECT_EQ(result.skin.slopes.size(), 2u);
    EXPECT_TRUE(result.overlapping.empty());
}

TEST(Skin, recess_and_countersink_are_steps_of_their_hole) {
    Plan plan = disc(100, 20);
    Hole sunk = through_hole("sunk", {25, 0}, 11);
    sunk.recess = Recess{Side::B, 24, 9, {}};
    add(plan, sunk);
    Hole cone = through_hole("cone", {-25, 0}, 6);
    cone.countersink = Countersink{Side::A, 12, Angle::from_degrees(90)};
    add(plan, cone);
    const SkinResult result = skin(plan);
    expect_closed(result.skin);
    const double frustum = pi / 3.0 * 3.0 * (36 + 18 + 9) - disc_volume(6, 3);
    expect_volume(result, disc_volume(100, 20) - disc_volume(24, 9) - disc_volume(11, 11) -
                              disc_volume(6, 20) - frustum);
}

TEST(Skin, spigot_register_and_bore_on_one_axis) {
    Plan plan = disc(430, 40);
    add(plan, bore(150));
    plan.raised.push_back(
        {"register-A", Side::A, Contour(Circle{{}, 361.9 / 2}), {Contour(Circle{{}, 330.0 / 2})}, 5});
    plan.pockets.push_back(pocket("register-B", Side::B, 6, {Contour(Circle{{}, 170.05 / 2}), {}}));
    const SkinResult result = skin(plan);
    expect_closed(result.skin);
    expect_volume(result, disc_volume(430, 40) - disc_volume(150, 34) - disc_volume(170.05, 6) +
                              disc_volume(361.9, 5) - disc_volume(330, 5));
    EXPECT_EQ(result.skin.box.least[2], -5.0);
    EXPECT_EQ(result.skin.pieces, 1);
}

TEST(Skin, a_spigot_whose_inside_is_the_bore_has_one_wall_through) {
    Plan plan = disc(200, 30);
    add(plan, bore(80));
    plan.raised.push_back({"register-A", Side::A, Contour(Circle{{}, 60}), {Contour(Circle{{}, 40})}, 4});
    const SkinResult result = skin(plan);
    expect_closed(result.skin);
    expect_volume(result, disc_volume(200, 30) - disc_volume(80, 34) + disc_volume(120, 4));
}

TEST(Skin, bosses_in_a_hollow_keep_their_height) {
    Plan plan = disc(300, 40);
    add(plan, bore(60));
    add(plan, through_hole("p-1", {90, 0}, 10));
    plan.pockets.push_back(
        pocket("hollow", Side::A, 22, {Contour(Circle{{}, 120}), {Contour(Circle{{90, 0}, 17})}}));
    const SkinResult result = skin(plan);
    expect_closed(result.skin);
    expect_volume(result, disc_volume(300, 40) - disc_volume(240, 22) + disc_volume(34, 22) -
                              disc_volume(60, 18) - disc_volume(10, 40));
}

TEST(Skin, a_hole_from_a_under_a_recess_from_b_is_not_overlapping) {
    Plan plan = disc(100, 40);
    add(plan, blind_hole("a", {12, 3}, 8, Side::A, 10));
    Hole sunk = through_hole("b", {25, 0}, 6);
    sunk.recess = Recess{Side::B, 40, 10, {}};
    add(plan, sunk);
    const SkinResult result = skin(plan);
    EXPECT_TRUE(result.overlapping.empty());
    expect_closed(result.skin);
    expect_volume(result, disc_volume(100, 40) - disc_volume(8, 10) - point_volume(8) - disc_volume(40, 10) -
                              disc_volume(6, 30));
}

TEST(Skin, holes_that_cross_in_plan_and_not_in_space_keep_a_closed_form) {
    Plan plan = disc(100, 40);
    add(plan, blind_hole("a", {10, 0}, 10, Side::A, 10));
    add(plan, blind_hole("b", {16, 0}, 10, Side::B, 10));
    const SkinResult result = skin(plan);
    EXPECT_EQ(result.overlapping.size(), 2u);
    expect_volume(result, disc_volume(100, 40) - 2 * (disc_volume(10, 10) + point_volume(10)));
}

TEST(Skin, a_relief_across_a_hole_has_no_closed_form) {
    Plan plan = disc(100, 40);
    add(plan, through_hole("a", {20, 0}, 10));
    plan.pockets.push_back(pocket("relief-1", Side::B, 10, {Contour(Circle{{26, 0}, 8}), {}}));
    const SkinResult result = skin(plan);
    ASSERT_EQ(result.overlapping.size(), 1u);
    EXPECT_EQ(result.overlapping.front().id, "relief-1");
    EXPECT_FALSE(result.volume_mm3);
    expect_closed(result.skin);
}

TEST(Skin, a_drill_point_that_breaks_out_is_overlapping) {
    Plan plan = disc(100, 20);
    add(plan, blind_hole("a", {20, 0}, 12, Side::B, 19));
    const SkinResult result = skin(plan);
    ASSERT_EQ(result.overlapping.size(), 1u);
    EXPECT_EQ(result.overlapping.front().role, CutRole::point);
    EXPECT_FALSE(result.volume_mm3);
    expect_closed(result.skin);
}

TEST(Skin, a_part_cut_in_two_counts_two_pieces) {
    Plan plan = disc(100, 20);
    Pocket ring = pocket("relief-1", Side::B, 20, {Contour(Circle{{}, 40}), {Contour(Circle{{}, 30})}});
    ring.through = true;
    plan.pockets.push_back(ring);
    EXPECT_EQ(skin(plan).skin.pieces, 2);
}

TEST(Skin, nothing_left_counts_none) {
    Plan plan = disc(100, 20);
    Pocket all = pocket("relief-1", Side::B, 20, {Contour(Circle{{}, 50}), {}});
    all.through = true;
    plan.pockets.push_back(all);
    EXPECT_EQ(skin(plan).skin.pieces, 0);
}

TEST(Skin, broken_edges_of_a_rounded_rectangle) {
    Plan plan = disc(1, 10);
    plan.body.outline = rectangle({}, 80, 50, 8, Angle());
    plan.body.edge_break_mm = 1.0;
    plan.body.edge_break_modelled = true;
    const SkinResult result = skin(plan);
    expect_closed(result.skin);
    EXPECT_FALSE(result.edge_break_left_out);
    // Second way: a section at inset u has the area A - P u + pi u^2; integrated over the two broken
    // millimetres.
    const double area = 80 * 50 - (4 - pi) * 64;
    const double perimeter = 2 * (64 + 34) + 2 * pi * 8;
    expect_volume(result, area * 10 - 2 * (perimeter / 2 - pi / 3));
}

TEST(Skin, edges_of_a_sharp_polygon_break_along_every_side) {
    Plan plan = disc(1, 10);
    const std::vector<Point> corners{{0, 0}, {60, 0}, {80, 40}, {10, 50}};
    plan.body.outline = *polygon(corners, 0);
    plan.body.edge_break_mm = 0.5;
    plan.body.edge_break_modelled = true;
    const SkinResult result = skin(plan);
    expect_closed(result.skin);
    EXPECT_FALSE(result.edge_break_left_out);
    EXPECT_EQ(result.skin.slopes.size(), 2u);
}

TEST(Skin, a_break_wider_than_a_corner_is_left_out_and_said) {
    Plan plan = disc(1, 10);
    plan.body.outline = rectangle({}, 80, 50, 0.5, Angle());
    plan.body.edge_break_mm = 1.0;
    plan.body.edge_break_modelled = true;
    EXPECT_TRUE(skin(plan).edge_break_left_out);
}

}  // namespace
}  // namespace fitup::plan
