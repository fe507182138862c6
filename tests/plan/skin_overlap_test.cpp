#include <gtest/gtest.h>

#include <numbers>
#include <set>

#include "plan/metal.hpp"
#include "plan/plates.hpp"
#include "plan/rings.hpp"

// Which cuts leave the skin, and what is still known of the volume then.
namespace fitup::plan {
namespace {

using namespace testing;
using std::numbers::pi;

std::multiset<std::string> left(const SkinResult& result) {
    std::multiset<std::string> ids;
    for (const Cut& cut : result.overlapping) ids.insert(cut.id);
    return ids;
}

SkinResult closed_skin(const Plan& plan) {
    SkinResult result = skin(plan);
    expect_closed(result.skin);
    return result;
}

Raised ring(Side side, Point at, double outer_mm, double bore_mm, double height_mm) {
    return {"spigot", side, Contour(Circle{at, outer_mm / 2}), {Contour(Circle{at, bore_mm / 2})}, height_mm};
}

TEST(SkinOverlap, of_a_bore_and_twelve_recesses_the_bore_leaves) {
    Plan plan = disc(200, 20);
    add(plan, bore(100));
    for (int k = 0; k < 12; ++k) {
        const Angle angle = Angle::from_degrees(30.0 * k);
        Hole hole = through_hole("h-" + std::to_string(k), {58 * angle.cos(), 58 * angle.sin()}, 8);
        hole.recess = Recess{Side::B, 20, 5, {}};
        add(plan, hole);
    }
    const SkinResult result = closed_skin(plan);
    EXPECT_EQ(left(result), (std::multiset<std::string>{"bore"}));
    EXPECT_FALSE(result.volume_mm3);
}

TEST(SkinOverlap, a_recess_leaves_without_its_hole) {
    Plan plan = disc(100, 20);
    add(plan, bore(40));
    Hole hole = through_hole("a", {27, 0}, 8);
    hole.recess = Recess{Side::B, 20, 5, {}};
    add(plan, hole);
    const SkinResult result = closed_skin(plan);
    ASSERT_EQ(result.overlapping.size(), 1u);
    EXPECT_EQ(result.overlapping[0].role, CutRole::recess);
    EXPECT_NEAR(result.skin.volume_mm3, pi * (2500 - 400 - 16) * 20, 1e-9);
}

TEST(SkinOverlap, a_shaft_takes_its_parts_with_it) {
    Plan plan = disc(100, 20);
    Hole hole = blind_hole("a", {48, 0}, 8, Side::B, 10);
    hole.countersink = Countersink{Side::B, 9, Angle::from_degrees(90)};
    add(plan, hole);
    const SkinResult result = closed_skin(plan);
    EXPECT_EQ(result.overlapping.size(), 3u);
    EXPECT_FALSE(result.volume_mm3);
    EXPECT_NEAR(result.skin.volume_mm3, pi * 2500 * 20, 1e-9);
}

TEST(SkinOverlap, a_pocket_leaves_rather_than_a_hole) {
    Plan plan = disc(100, 20);
    add(plan, through_hole("a", {20, 0}, 10));
    plan.pockets.push_back(pocket("relief-1", Side::B, 5, {Contour(Circle{{26, 0}, 8}), {}}));
    EXPECT_EQ(left(closed_skin(plan)), (std::multiset<std::string>{"relief-1"}));
}

TEST(SkinOverlap, a_hole_through_the_edge_of_a_spigot_leaves_and_the_spigot_stays) {
    Plan plan = disc(100, 20);
    plan.raised.push_back(ring(Side::A, {}, 60, 40, 5));
    add(plan, through_hole("a", {30, 0}, 8));
    const SkinResult result = closed_skin(plan);
    EXPECT_EQ(left(result), (std::multiset<std::string>{"a"}));
    EXPECT_TRUE(result.overlapping_raised.empty());
    EXPECT_FALSE(result.volume_mm3);
}

TEST(SkinOverlap, a_blind_hole_behind_the_edge_of_a_spigot_keeps_the_closed_form) {
    Plan plan = disc(100, 20);
    plan.raised.push_back(ring(Side::A, {}, 60, 40, 5));
    const double before = *skin(plan).volume_mm3;
    Hole hole = blind_hole("a", {30, 0}, 8, Side::B, 10);
    hole.point_angle.reset();
    add(plan, hole);
    const SkinResult result = closed_skin(plan);
    EXPECT_EQ(left(result), (std::multiset<std::string>{"a"}));
    ASSERT_TRUE(result.volume_mm3);
    EXPECT_NEAR(before - *result.volume_mm3, pi * 16 * 10, 1e-9);
}

TEST(SkinOverlap, a_ring_across_the_outline_leaves_with_all_cuts_through_it) {
    Plan plan = disc(100, 20);
    plan.raised.push_back(ring(Side::A, {45, 0}, 40, 10, 5));
    add(plan, through_hole("in-ring", {35, 0}, 6));
    add(plan, blind_hole("behind", {35, 10}, 6, Side::B, 8));
    add(plan, through_hole("elsewhere", {-20, 0}, 6));
    const SkinResult result = closed_skin(plan);
    EXPECT_EQ(result.overlapping_raised.size(), 1u);
    EXPECT_EQ(left(result), (std::multiset<std::string>{"in-ring"}));
    EXPECT_FALSE(result.volume_mm3);
}

TEST(SkinOverlap, a_recess_that_crosses_an_opposite_hole_in_plan_alone_keeps_the_closed_form) {
    Plan plan = disc(100, 40);
    Hole sunk = blind_hole("sunk", {0, 0}, 6, Side::B, 15);
    sunk.recess = Recess{Side::B, 20, 8, {}};
    add(plan, sunk);
    add(plan, blind_hole("a", {12, 0}, 8, Side::A, 10));
    const SkinResult result = closed_skin(plan);
    ASSERT_EQ(result.overlapping.size(), 1u);
    ASSERT_TRUE(result.volume_mm3);
    const double all =
        pi * 2500 * 40 - taken_by_hole_mm3(plan.holes[0], 40) - taken_by_hole_mm3(plan.holes[1], 40);
    EXPECT_NEAR(*result.volume_mm3 / all, 1.0, 1e-12);
}

/// Drill points from opposite sides: clear by their cones though their cylinders' ends, prolonged to the
/// tips, would meet.
TEST(SkinOverlap, opposite_drill_points_that_pass_each_other_are_clear) {
    Plan plan = disc(100, 30);
    add(plan, blind_hole("a", {0, 0}, 12, Side::A, 14));
    add(plan, blind_hole("b", {9, 0}, 12, Side::B, 14));
    const SkinResult result = closed_skin(plan);
    ASSERT_TRUE(result.volume_mm3);
    const double all =
        pi * 2500 * 30 - taken_by_hole_mm3(plan.holes[0], 30) - taken_by_hole_mm3(plan.holes[1], 30);
    EXPECT_NEAR(*result.volume_mm3 / all, 1.0, 1e-12);
    plan.holes[1].depth_mm = 16;
    EXPECT_FALSE(skin(plan).volume_mm3);
}

TEST(SkinOverlap, a_cone_with_another_hole_in_it_leaves) {
    Plan plan = disc(100, 20);
    Hole hole = through_hole("a", {}, 6);
    hole.countersink = Countersink{Side::B, 30, Angle::from_degrees(90)};
    add(plan, hole);
    add(plan, through_hole("b", {9, 0}, 4));
    const SkinResult result = closed_skin(plan);
    ASSERT_EQ(result.overlapping.size(), 1u);
    EXPECT_EQ(result.overlapping[0].role, CutRole::countersink);
}

TEST(SkinOverlap, a_drill_point_into_an_opposite_pocket_leaves) {
    Plan plan = disc(100, 20);
    plan.pockets.push_back(pocket("hollow", Side::A, 8, {Contour(Circle{{}, 40}), {}}));
    add(plan, blind_hole("a", {10, 0}, 8, Side::B, 11));
    const SkinResult result = closed_skin(plan);
    ASSERT_EQ(result.overlapping.size(), 1u);
    EXPECT_EQ(result.overlapping[0].role, CutRole::point);
}

TEST(SkinOverlap, what_lies_across_a_broken_edge_leaves) {
    Plan plan = disc(100, 20);
    plan.body.edge_break_mm = 2;
    plan.body.edge_break_modelled = true;
    add(plan, through_hole("on-the-edge-of-the-break", {47, 0}, 5));
    add(plan, through_hole("within-the-break", {0, 49}, 1));
    add(plan, through_hole("clear", {0, 0}, 5));
    const SkinResult result = closed_skin(plan);
    EXPECT_EQ(left(result), (std::multiset<std::string>{"on-the-edge-of-the-break", "within-the-break"}));
    EXPECT_EQ(result.skin.slopes.size(), 2u);
    EXPECT_FALSE(result.volume_mm3);
}

TEST(SkinOverlap, a_hole_off_the_part_changes_nothing) {
    Plan plan = disc(100, 20);
    add(plan, through_hole("a", {80, 0}, 10));
    EXPECT_NEAR(*closed_skin(plan).volume_mm3, pi * 2500 * 20, 1e-9);
}

TEST(SkinShape, metal_that_meets_in_an_edge_alone_is_found) {
    Plan plan = disc(100, 40);
    plan.pockets.push_back(pocket("relief-1", Side::B, 20, {Contour(Circle{{}, 30}), {}}));
    Pocket around = pocket("relief-2", Side::A, 20, {Contour(Circle{{}, 60}), {Contour(Circle{{}, 30})}});
    plan.pockets.push_back(around);
    const SkinResult result = skin(plan);
    EXPECT_TRUE(result.skin.touches_itself);
    ASSERT_EQ(result.skin.edge_contacts.size(), 1u);
    EXPECT_EQ(result.skin.edge_contacts[0].z_mm, 20.0);
    EXPECT_EQ(result.skin.pieces, 2);
    plan.pockets[1].depth_mm = 19;
    EXPECT_FALSE(skin(plan).skin.touches_itself);
    EXPECT_EQ(skin(plan).skin.pieces, 1);
}

TEST(SkinShape, faces_carry_the_names_of_what_made_them) {
    Plan plan = disc(100, 20);
    add(plan, bore(30));
    plan.raised.push_back(ring(Side::A, {}, 60, 30, 5));
    Hole hole = blind_hole("a", {40, 0}, 8, Side::B, 10);
    hole.recess = Recess{Side::B, 14, 3, {}};
    add(plan, hole);
    plan.pockets.push_back(pocket("register-B", Side::B, 4, {Contour(Circle{{}, 30}), {}}));
    const Skin found = closed_skin(plan).skin;
    std::multiset<std::string> walls, floors, slopes;
    for (const Wall& wall : found.walls) walls.insert(wall.name);
    for (const Floor& floor : found.floors) floors.insert(floor.name);
    for (const Slope& slope : found.slopes) slopes.insert(slope.name);
    EXPECT_EQ(walls, (std::multiset<std::string>{"a", "a", "bore", "outline", "register-B", "spigot"}));
    EXPECT_EQ(floors, (std::multiset<std::string>{"a", "face A", "face B", "register-B", "spigot"}));
    EXPECT_EQ(slopes, (std::multiset<std::string>{"a"}));
}

}  // namespace
}  // namespace fitup::plan
