#include "plan/cuts.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "plan/plates.hpp"

namespace fitup::plan {
namespace {

using namespace testing;
using std::numbers::pi;

Countersink sunk(Side side, double diameter_mm, double degrees) {
    return {side, diameter_mm, Angle::from_degrees(degrees)};
}

TEST(Cuts, a_through_hole_opens_both_faces) {
    Plan plan = disc(100, 12);
    add(plan, through_hole("a", {10, 20}, 6));
    const auto found = cuts(plan);
    ASSERT_EQ(found.size(), 1u);
    EXPECT_EQ(found[0].id, "a");
    EXPECT_TRUE(found[0].opens_a && found[0].opens_b);
    EXPECT_EQ(found[0].z_low_mm, 0.0);
    EXPECT_EQ(found[0].z_high_mm, 12.0);
    EXPECT_EQ(found[0].area.outer.circle()->radius_mm, 3.0);
}

TEST(Cuts, blind_holes_end_in_a_cone_on_the_far_side_of_their_depth) {
    Plan plan = disc(100, 40);
    add(plan, blind_hole("a", {}, 10, Side::A, 15));
    add(plan, blind_hole("b", {30, 0}, 10, Side::B, 15));
    const auto found = cuts(plan);
    ASSERT_EQ(found.size(), 4u);
    const double height = 5 / std::tan(59 * pi / 180);
    EXPECT_EQ(found[0].z_high_mm, 15.0);
    EXPECT_TRUE(found[0].opens_a && !found[0].opens_b);
    EXPECT_EQ(found[1].role, CutRole::point);
    EXPECT_NEAR(found[1].z_high_mm, 15 + height, 1e-12);
    EXPECT_EQ(found[1].cone->radius_low_mm, 5.0);
    EXPECT_EQ(found[1].cone->radius_high_mm, 0.0);
    EXPECT_EQ(found[2].z_low_mm, 25.0);
    EXPECT_TRUE(!found[2].opens_a && found[2].opens_b);
    EXPECT_NEAR(found[3].z_low_mm, 25 - height, 1e-12);
    EXPECT_EQ(found[3].z_high_mm, 25.0);
    EXPECT_FALSE(found[3].opens_a || found[3].opens_b);
}

TEST(Cuts, a_flat_bottomed_hole_and_a_slot_have_no_point) {
    Plan plan = disc(100, 40);
    Hole flat = blind_hole("flat", {}, 10, Side::A, 15);
    flat.point_angle.reset();
    Hole slotted = blind_hole("slot", {30, 0}, 10, Side::B, 15);
    slotted.slot_length_mm = 16;
    add(plan, flat);
    add(plan, slotted);
    const auto found = cuts(plan);
    ASSERT_EQ(found.size(), 2u);
    EXPECT_NEAR(volume_mm3(found[1]), (pi * 25 + 6 * 10) * 15, 1e-9);
}

TEST(Cuts, a_slot_lies_along_its_direction) {
    Plan plan = disc(100, 10);
    Hole slotted = through_hole("s", {5, 5}, 6);
    slotted.slot_length_mm = 16;
    slotted.slot_direction = Angle::from_degrees(90);
    add(plan, slotted);
    const Box2 box = cuts(plan)[0].area.outer.box();
    EXPECT_NEAR(box.least.y_mm, -3, 1e-12);
    EXPECT_NEAR(box.most.y_mm, 13, 1e-12);
    EXPECT_NEAR(box.most.x_mm, 8, 1e-12);
}

TEST(Cuts, a_blind_hole_as_deep_as_the_plate_opens_both_faces) {
    Plan plan = disc(100, 15);
    add(plan, blind_hole("a", {}, 10, Side::A, 15));
    const auto found = cuts(plan);
    ASSERT_EQ(found.size(), 1u);
    EXPECT_TRUE(found[0].opens_a && found[0].opens_b);
}

TEST(Cuts, a_countersink_narrows_to_the_hole) {
    Plan plan = disc(100, 20);
    Hole hole = through_hole("a", {}, 6);
    hole.countersink = sunk(Side::A, 12, 90);
    add(plan, hole);
    const auto found = cuts(plan);
    ASSERT_EQ(found.size(), 2u);
    EXPECT_NEAR(found[1].z_high_mm, 3.0, 1e-12);
    EXPECT_TRUE(found[1].opens_a && !found[1].opens_b);
    EXPECT_EQ(found[1].cone->radius_low_mm, 6.0);
    EXPECT_EQ(found[1].cone->radius_high_mm, 3.0);
    EXPECT_NEAR(volume_mm3(found[1]), pi / 3 * 3 * (36 + 18 + 9), 1e-9);
}

TEST(Cuts, a_countersink_deeper_than_the_plate_ends_at_the_far_face) {
    Plan plan = disc(100, 2);
    Hole hole = through_hole("a", {}, 6);
    hole.countersink = sunk(Side::B, 12, 90);
    add(plan, hole);
    const Cut cut = cuts(plan)[1];
    EXPECT_EQ(cut.z_low_mm, 0.0);
    EXPECT_NEAR(cut.cone->radius_low_mm, 4.0, 1e-12);
    EXPECT_TRUE(cut.opens_a && cut.opens_b);
}

TEST(Cuts, every_area_of_a_pocket_is_a_cut) {
    Plan plan = disc(100, 20);
    Pocket two = pocket("hollow", Side::B, 5, {Contour(Circle{{20, 0}, 5}), {}});
    two.areas.push_back({Contour(Circle{{-20, 0}, 5}), {Contour(Circle{{-20, 0}, 2})}});
    plan.pockets.push_back(two);
    const auto found = cuts(plan);
    ASSERT_EQ(found.size(), 2u);
    EXPECT_EQ(found[1].role, CutRole::pocket);
    EXPECT_EQ(found[1].z_low_mm, 15.0);
    EXPECT_NEAR(volume_mm3(found[1]), pi * (25 - 4) * 5, 1e-9);
}

}  // namespace
}  // namespace fitup::plan
