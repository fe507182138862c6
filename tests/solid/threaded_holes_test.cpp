// Real threads in the holes of a plate: sound bodies whose volume is the plate's less the exact room of the
// threads.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "plan/skin.hpp"
#include "plan/thread_form.hpp"
#include "solid/plates.hpp"
#include "solid/solid.hpp"
#include "solid/sound.hpp"

namespace fitup::solid {
namespace {

plan::Hole tapped(const std::string& id, plan::Point at_mm, plan::Side from, double depth_mm,
                  double drilled_mm) {
    plan::Hole hole = plates::hole(id, at_mm, 0.0);
    hole.kind = plan::HoleKind::tapped;
    hole.from = from;
    hole.thread.emplace();
    hole.thread->designation = "M10";
    hole.thread->major_mm = 10.0;
    hole.thread->pitch_mm = 1.5;
    hole.thread->minor_mm = 2.0 * plan::thread_form(*hole.thread).minor_radius_mm();
    hole.thread->modelled = true;
    hole.thread->depth_mm = depth_mm;
    hole.diameter_mm = hole.thread->minor_mm;
    hole.through = drilled_mm >= 24.0;
    hole.depth_mm = drilled_mm;
    if (!hole.through) hole.point_angle = Angle::from_degrees(118);
    return hole;
}

/// Room of the thread beyond its hole at the minor diameter.
double grooves_mm3(const plan::Hole& hole, double length_mm, plan::ThreadEnd finish) {
    const plan::ThreadedLength of{plan::thread_form(*hole.thread), plan::ThreadSide::internal,
                                  hole.thread->hand, length_mm, finish};
    const double minor_mm = of.form.minor_radius_mm();
    return of.enclosed_mm3() - std::numbers::pi * minor_mm * minor_mm * of.end_mm();
}

plan::Plan plate_with(const std::vector<plan::Hole>& holes) {
    plan::Plan plan = plates::rectangle_plate();
    plan.body.thickness_mm = 24;
    plan.holes = holes;
    return plan;
}

void expect_sound(const plan::Plan& plan, double grooves) {
    const plan::SkinResult skin = plan::skin(plan);
    const Built built = build(plan, skin);
    ASSERT_TRUE(built.solid) << (built.findings.empty() ? "" : built.findings.front().message);
    expect_valid(*built.solid);
    const double plate_mm3 = skin.volume_mm3.value_or(skin.skin.volume_mm3);
    EXPECT_NEAR(built.solid->volume_mm3(), plate_mm3 - grooves, 1e-6 * grooves);
}

TEST(ThreadedHole, through_a_plate_has_a_chamfer_at_both_ends) {
    const auto hole = tapped("t-1", {20, 10}, plan::Side::B, 24, 24);
    expect_sound(plate_with({hole}), grooves_mm3(hole, 24, plan::ThreadEnd::chamfer));
}

TEST(ThreadedHole, blind_from_either_side_and_left_handed_runs_out_above_the_drills_depth) {
    auto first = tapped("t-1", {20, 10}, plan::Side::B, 12, 18);
    auto second = tapped("t-2", {-20, 10}, plan::Side::A, 9, 16);
    second.thread->hand = plan::Hand::left;
    expect_sound(plate_with({first, second}), grooves_mm3(first, 12, plan::ThreadEnd::run_out) +
                                                  grooves_mm3(second, 9, plan::ThreadEnd::run_out));
}

TEST(ThreadedHole, drilled_through_and_tapped_part_of_the_way) {
    const auto hole = tapped("t-1", {20, 10}, plan::Side::B, 12, 24);
    expect_sound(plate_with({hole}), grooves_mm3(hole, 12, plan::ThreadEnd::run_out));
}

TEST(ThreadedHole, starts_on_a_boss_and_ends_where_the_plate_says) {
    plan::Plan plan = plate_with({tapped("t-1", {20, 10}, plan::Side::B, 12, 24)});
    plan.raised.push_back({"boss", plan::Side::B, plan::Contour(plan::Circle{{20, 10}, 9}), {}, 3.0});
    expect_sound(plan, grooves_mm3(plan.holes[0], 15, plan::ThreadEnd::run_out));
}

TEST(ThreadedHole, beside_a_relief_that_crosses_another_hole) {
    plan::Plan plan =
        plate_with({tapped("t-1", {20, 10}, plan::Side::B, 24, 24), plates::hole("h-1", {-30, 0}, 8)});
    plan.pockets.push_back(
        plates::relief("relief-1", plan::Contour(plan::Circle{{-34, 0}, 6}), plan::Side::B, 5));
    const plan::SkinResult skin = plan::skin(plan);
    ASSERT_FALSE(skin.overlapping.empty());
    const Built built = build(plan, skin);
    ASSERT_TRUE(built.solid);
    plan.holes[0].thread->modelled = false;
    const Built plain = build(plan, skin);
    EXPECT_NEAR(built.solid->volume_mm3(),
                plain.solid->volume_mm3() - grooves_mm3(plan.holes[0], 24, plan::ThreadEnd::chamfer), 1e-3);
}

std::string refusal(const plan::Plan& plan) {
    const Built built = build(plan, plan::skin(plan));
    if (built.findings.empty()) return "";
    EXPECT_TRUE(built.findings.front().final);
    EXPECT_EQ(built.findings.front().rule, "thread-model");
    EXPECT_EQ(built.findings.front().where, "t-1");
    return built.findings.front().message;
}

TEST(ThreadedHole, that_a_relief_runs_into_is_a_final_stop) {
    plan::Plan plan = plate_with({tapped("t-1", {20, 10}, plan::Side::B, 24, 24)});
    plan.pockets.push_back(
        plates::relief("relief-1", plan::Contour(plan::Circle{{16, 10}, 6}), plan::Side::B, 5));
    EXPECT_NE(refusal(plan).find("another cut runs into it"), std::string::npos);
}

TEST(ThreadedHole, without_room_for_its_run_out_is_a_final_stop) {
    EXPECT_NE(refusal(plate_with({tapped("t-1", {20, 10}, plan::Side::B, 12, 13)})).find("drill it deeper"),
              std::string::npos);
}

TEST(ThreadedHole, with_a_countersink_is_a_final_stop) {
    plan::Plan plan = plate_with({tapped("t-1", {20, 10}, plan::Side::B, 24, 24)});
    plan.holes[0].countersink = plan::Countersink{plan::Side::B, 14.0, Angle::from_degrees(90)};
    EXPECT_NE(refusal(plan).find("plain face"), std::string::npos);
}

}  // namespace
}  // namespace fitup::solid
