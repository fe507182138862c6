// Rules about what has to get in and what is milled: socket-room, proud-head, deep-drill, inside-corner,
// deep-hollow.
#include <gtest/gtest.h>

#include <cmath>

#include "rules/plates.hpp"

namespace fitup::rules {
namespace {

using namespace plates;
using plan::Contour;
using plan::Point;
using plan::Severity;
using plan::Side;

constexpr double rounding = 1e-9;

/// An M10 nut with washer in a recess; sizes as ISO 4032 (16 wide, 8.4 high) and ISO 7089 (20 wide, 2 thick),
/// from memory; a socket of 24 mm.
plan::Plan sunk_nut(double diameter_mm, double depth_mm) {
    plan::Plan plan = with(disc(), {clearance("housing-1", {150.0, 0.0}, 11.0, "M10", 10.0)});
    plan::SunkFastener nut;
    nut.what = "nut";
    nut.designation = "M10";
    nut.across_flats_mm = 16.0;
    nut.height_mm = 8.4;
    nut.washer_outside_mm = 20.0;
    nut.washer_thickness_mm = 2.0;
    nut.tool_outside_mm = 24.0;
    nut.tool = "hand socket";
    nut.source = "test";
    plan.holes[0].recess = plan::Recess{Side::B, diameter_mm, depth_mm, nut};
    return plan;
}

TEST(SocketRoom, a_recess_too_small_for_the_socket_stops_and_one_with_a_millimetre_passes) {
    const auto tight = judge(sunk_nut(24.4, 10.4));
    const plan::Finding* finding = find(tight, "socket-room", "housing-1");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->severity, Severity::warn);
    EXPECT_NEAR(*finding->value, 0.4, rounding);
    EXPECT_EQ(finding->limit, 1.0);
    const auto small = judge(sunk_nut(22.0, 10.4));
    EXPECT_EQ(find(small, "socket-room")->severity, Severity::stop);
    EXPECT_NEAR(*find(small, "socket-room")->value, -2.0, rounding);
    EXPECT_EQ(find(judge(sunk_nut(25.0, 10.4)), "socket-room"), nullptr);
}

TEST(SocketRoom, the_washer_governs_where_it_is_the_widest) {
    plan::Plan plan = sunk_nut(25.0, 10.4);
    plan.holes[0].recess->holds->washer_outside_mm = 26.0;
    const auto findings = judge(plan);
    ASSERT_NE(find(findings, "socket-room"), nullptr);
    EXPECT_NEAR(*find(findings, "socket-room")->value, -1.0, rounding);
}

TEST(ProudHead, a_recess_shallower_than_nut_and_washer_warns) {
    const auto proud = judge(sunk_nut(27.0, 9.0));
    const plan::Finding* finding = find(proud, "proud-head", "housing-1");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->severity, Severity::warn);
    EXPECT_NEAR(*finding->value, -1.4, rounding);
    EXPECT_EQ(find(judge(sunk_nut(27.0, 10.4)), "proud-head"), nullptr);
}

TEST(DeepDrill, over_ten_diameters_of_metal_warns) {
    plan::Plan plan = with(disc(), {hole("gearbox-1", {150.0, 0.0}, 3.9)});
    const auto deep = judge(plan);
    const plan::Finding* finding = find(deep, "deep-drill", "gearbox-1");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->severity, Severity::warn);
    EXPECT_NEAR(*finding->value, 40.0 / 3.9, rounding);
    EXPECT_EQ(finding->limit, 10.0);
    plan.holes[0].diameter_mm = 4.0;
    EXPECT_EQ(find(judge(plan), "deep-drill"), nullptr);
}

TEST(DeepDrill, what_a_recess_or_a_pocket_takes_away_is_not_drilled) {
    plan::Plan plan = with(disc(), {hole("gearbox-1", {150.0, 0.0}, 3.0)});
    EXPECT_NE(find(judge(plan), "deep-drill"), nullptr);
    plan.holes[0].recess = plan::Recess{Side::B, 12.0, 10.0, {}};
    EXPECT_EQ(find(judge(plan), "deep-drill"), nullptr);
    plan.holes[0].recess.reset();
    for (const Side side : {Side::A, Side::B}) {
        plan.pockets = {pocket("relief-1", plan::PocketKind::relief, side,
                               Contour(plan::Circle{{150.0, 0.0}, 20.0}), 12.0)};
        EXPECT_EQ(find(judge(plan), "deep-drill"), nullptr);
    }
    // The pocket's edge runs across the hole: on one side of it the drill still has all the metal.
    plan.pockets[0].areas[0].outer = Contour(plan::Circle{{150.0, 20.0}, 20.0});
    EXPECT_NE(find(judge(plan), "deep-drill"), nullptr);
}

TEST(DeepDrill, a_blind_hole_ends_where_it_ends_and_a_spigot_is_drilled_too) {
    plan::Plan plan = with(disc(), {blind("gearbox-1", {150.0, 0.0}, 3.9, Side::B, 37.0)});
    EXPECT_EQ(find(judge(plan), "deep-drill"), nullptr);
    plan.raised.push_back(
        {"register-B", Side::B, Contour(plan::Circle{{}, 180.0}), {Contour(plan::Circle{{}, 120.0})}, 5.0});
    const auto findings = judge(plan);
    ASSERT_NE(find(findings, "deep-drill"), nullptr);
    EXPECT_NEAR(*find(findings, "deep-drill")->value, 42.0 / 3.9, rounding);
}

plan::Plan with_relief(double depth_mm, double corner_radius_mm) {
    plan::Plan plan = disc();
    plan.pockets = {pocket(
        "relief-1", plan::PocketKind::relief, Side::B,
        plan::rectangle({60.0, 70.0}, 40.0, 30.0, corner_radius_mm, Angle::from_degrees(0.0)), depth_mm)};
    plan.pockets[0].corner_radius_mm = corner_radius_mm;
    return plan;
}

// Depth over twice the corner's radius: over 3 it is slow (note), over 5 hard (warn).
TEST(InsideCorner, a_deep_pocket_with_a_small_radius_is_found_at_its_corner) {
    const auto hard = judge(with_relief(30.0, 2.5));
    const plan::Finding* finding = find(hard, "inside-corner", "relief-1");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->severity, Severity::warn);
    EXPECT_NEAR(*finding->value, 6.0, rounding);
    EXPECT_EQ(finding->limit, 5.0);
    ASSERT_TRUE(finding->at_mm);
    EXPECT_NEAR(std::abs((*finding->at_mm)[0] - 60.0), 20.0 - 2.5 * (1.0 - std::sqrt(0.5)), 1e-6);
    const auto slow = judge(with_relief(30.0, 4.0));
    EXPECT_EQ(find(slow, "inside-corner")->severity, Severity::note);
    EXPECT_EQ(find(judge(with_relief(30.0, 5.0)), "inside-corner"), nullptr);
}

TEST(InsideCorner, a_sharp_one_stops_in_a_pocket) {
    const auto findings = judge(with_relief(30.0, 0.0));
    ASSERT_NE(find(findings, "inside-corner"), nullptr);
    EXPECT_EQ(find(findings, "inside-corner")->severity, Severity::stop);
    EXPECT_FALSE(find(findings, "inside-corner")->final);
}

/// An angle bracket's shape: its one inside corner lies at 0, 0.
plan::Plan bracket(double corner_radius_mm) {
    plan::Plan plan = disc();
    const std::vector<Point> points{{-100.0, -100.0}, {100.0, -100.0}, {100.0, 0.0},
                                    {0.0, 0.0},       {0.0, 100.0},    {-100.0, 100.0}};
    plan.body.outline = *plan::polygon(points, corner_radius_mm);
    return plan;
}

TEST(InsideCorner, the_outlines_own_corners_count_and_its_outside_ones_do_not) {
    const auto hard = judge(bracket(3.0));
    const plan::Finding* finding = find(hard, "inside-corner", "outline");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->severity, Severity::warn);
    EXPECT_NEAR(*finding->value, 40.0 / 6.0, rounding);
    // The middle of the arc about 3, 3 that rounds the corner.
    EXPECT_NEAR((*finding->at_mm)[0], 3.0 - 3.0 * std::sqrt(0.5), rounding);
    EXPECT_NEAR((*finding->at_mm)[1], 3.0 - 3.0 * std::sqrt(0.5), rounding);
    EXPECT_EQ(find(judge(bracket(8.0)), "inside-corner"), nullptr);
    const auto sharp = judge(bracket(0.0));
    ASSERT_NE(find(sharp, "inside-corner", "outline"), nullptr);
    EXPECT_EQ(find(sharp, "inside-corner")->severity, Severity::warn);
    EXPECT_NEAR((*find(sharp, "inside-corner")->at_mm)[0], 0.0, rounding);
    plan::Plan square = disc();
    square.body.outline = plan::rectangle({}, 200.0, 200.0, 0.0, Angle::from_degrees(0.0));
    EXPECT_EQ(find(judge(square), "inside-corner"), nullptr);
}

TEST(DeepHollow, over_half_the_thickness_is_noted) {
    plan::Plan plan = disc();
    plan.pockets = {
        pocket("hollow", plan::PocketKind::hollow, Side::A, Contour(plan::Circle{{}, 120.0}), 22.0)};
    const auto findings = judge(plan);
    const plan::Finding* finding = find(findings, "deep-hollow", "hollow");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->severity, Severity::note);
    EXPECT_NEAR(*finding->value, 0.55, rounding);
    EXPECT_EQ(finding->limit, 0.5);
    plan.pockets[0].depth_mm = 20.0;
    EXPECT_EQ(find(judge(plan), "deep-hollow"), nullptr);
    plan.pockets[0].depth_mm = 22.0;
    plan.pockets[0].kind = plan::PocketKind::relief;
    EXPECT_EQ(find(judge(plan), "deep-hollow"), nullptr);
}

}  // namespace
}  // namespace fitup::rules
