// Rules about metal left: edge-distance, rim, web, recess-floor, hole-floor, drill-through.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "rules/plates.hpp"

namespace fitup::rules {
namespace {

using namespace plates;
using plan::Severity;
using plan::Side;

/// Values are worked out from coordinates near 200 mm by a few additions: 1e-12 relative is far above their
/// rounding.
constexpr double rounding = 1e-9;

plan::Plan at_edge(plan::Hole hole, double to_edge_mm, plan::Material material) {
    plan::Plan plan = disc();
    plan.material = std::move(material);
    hole.at_mm = {215.0 - to_edge_mm, 0.0};
    plan.holes.push_back(std::move(hole));
    return plan;
}

TEST(EdgeDistance, aluminium_wants_one_and_a_half_diameters_and_stops_under_one) {
    const plan::Hole m10 = clearance("housing-1", {}, 11.0, "M10", 10.0);
    const auto close = judge(at_edge(m10, 14.0, aluminium()));
    const plan::Finding* finding = find(close, "edge-distance", "housing-1");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->severity, Severity::warn);
    EXPECT_NEAR(*finding->value, 1.4, rounding);
    EXPECT_EQ(finding->limit, 1.5);
    EXPECT_EQ(finding->unit, "d");
    EXPECT_EQ(find(judge(at_edge(m10, 15.0, aluminium())), "edge-distance"), nullptr);
    const auto closer = judge(at_edge(m10, 9.5, aluminium()));
    ASSERT_NE(find(closer, "edge-distance"), nullptr);
    EXPECT_EQ(find(closer, "edge-distance")->severity, Severity::stop);
    EXPECT_FALSE(find(closer, "edge-distance")->final);
}

// AISC 360-16 Tables J3.4 and J3.4M: 3/4 in bolt 1 in, M20 26 mm, 1/2 in 3/4 in, M36 46 mm, larger 1.25 d.
struct AiscRow {
    double nominal_mm;
    double least_mm;
};
class AiscEdge : public testing::TestWithParam<AiscRow> {};

TEST_P(AiscEdge, steel_passes_at_the_tables_distance_and_warns_below) {
    const auto [nominal_mm, least_mm] = GetParam();
    const plan::Hole bolt = clearance("housing-1", {}, nominal_mm + 1.0, "bolt", nominal_mm);
    EXPECT_EQ(find(judge(at_edge(bolt, least_mm + 1e-6, steel())), "edge-distance"), nullptr);
    const auto below = judge(at_edge(bolt, least_mm - 1e-3, steel()));
    ASSERT_NE(find(below, "edge-distance"), nullptr);
    EXPECT_NEAR(*find(below, "edge-distance")->limit * nominal_mm, least_mm, 1e-9);
}
INSTANTIATE_TEST_SUITE_P(Table, AiscEdge,
                         testing::Values(AiscRow{12.7, 19.05}, AiscRow{19.05, 25.4}, AiscRow{20.0, 26.0},
                                         AiscRow{36.0, 46.0}, AiscRow{40.0, 50.0}));

TEST(EdgeDistance, a_large_hole_for_no_bolt_warns_and_does_not_stop) {
    const auto findings = judge(at_edge(hole("light-1", {}, 50.0), 45.0, aluminium()));
    ASSERT_NE(find(findings, "edge-distance"), nullptr);
    EXPECT_EQ(find(findings, "edge-distance")->severity, Severity::warn);
}

TEST(EdgeDistance, a_slot_is_measured_from_its_end) {
    plan::Hole slotted = hole("dowels-2", {}, 12.0);
    slotted.kind = plan::HoleKind::dowel;
    slotted.slot_length_mm = 20.0;
    // The slot's last arc is centred 4 mm further out than its middle.
    const auto findings = judge(at_edge(slotted, 20.0, aluminium()));
    ASSERT_NE(find(findings, "edge-distance"), nullptr);
    EXPECT_NEAR(*find(findings, "edge-distance")->value, 16.0 / 12.0, rounding);
}

TEST(Rim, a_recess_near_or_through_the_rim_is_found) {
    plan::Plan plan = disc();
    plan::Hole m10 = clearance("housing-1", {185.0, 0.0}, 11.0, "M10", 10.0);
    m10.recess = plan::Recess{Side::B, 58.0, 9.0, {}};
    plan.holes.push_back(m10);
    const auto thin = judge(plan);
    ASSERT_NE(find(thin, "rim", "housing-1"), nullptr);
    EXPECT_NEAR(*find(thin, "rim")->value, 1.0, rounding);
    EXPECT_EQ(find(thin, "rim")->severity, Severity::warn);
    plan.holes[0].recess->diameter_mm = 62.0;
    const auto open = judge(plan);
    ASSERT_NE(find(open, "rim"), nullptr);
    EXPECT_EQ(find(open, "rim")->severity, Severity::stop);
    EXPECT_FALSE(find(open, "rim")->final);
    plan.holes[0].recess->diameter_mm = 27.0;
    EXPECT_EQ(find(judge(plan), "rim"), nullptr);
}

TEST(Rim, a_spigots_wall_counts) {
    plan::Plan plan = with(disc(), {bore(150.0)});
    plan.raised.push_back({"register-A",
                           Side::A,
                           plan::Contour(plan::Circle{{}, 100.0}),
                           {plan::Contour(plan::Circle{{}, 98.8})},
                           5.0});
    const auto findings = judge(plan);
    ASSERT_NE(find(findings, "rim", "register-A"), nullptr);
    EXPECT_NEAR(*find(findings, "rim")->value, 1.2, rounding);
    plan.raised[0].inner = {plan::Contour(plan::Circle{{}, 80.0})};
    EXPECT_EQ(find(judge(plan), "rim"), nullptr);
}

TEST(Web, two_holes_with_a_thin_wall_between_are_found_with_its_place) {
    const auto web_of = [](double apart_mm) {
        return judge(with(disc(), {hole("gearbox-1", {100.0, 0.0}, 10.0),
                                   hole("gearbox-2", {100.0 + apart_mm, 0.0}, 10.0)}));
    };
    const auto stop = web_of(10.4);
    const plan::Finding* finding = find(stop, "web", "gearbox-1, gearbox-2");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->severity, Severity::stop);
    EXPECT_NEAR(*finding->value, 0.4, rounding);
    EXPECT_EQ(finding->limit, 0.5);
    EXPECT_EQ(finding->unit, "mm");
    EXPECT_NEAR((*finding->at_mm)[0], 105.2, rounding);
    const auto warn = web_of(12.4);
    ASSERT_NE(find(warn, "web"), nullptr);
    EXPECT_EQ(find(warn, "web")->severity, Severity::warn);
    EXPECT_EQ(find(warn, "web")->limit, 2.5);
    EXPECT_EQ(find(web_of(12.6), "web"), nullptr);
}

TEST(RecessFloor, too_deep_a_recess_is_found_and_a_spigot_behind_it_counts) {
    plan::Plan plan = disc();
    plan::Hole m10 = clearance("housing-1", {170.0, 0.0}, 11.0, "M10", 10.0);
    m10.recess = plan::Recess{Side::B, 27.0, 36.0, {}};
    plan.holes.push_back(m10);
    const auto findings = judge(plan);
    ASSERT_NE(find(findings, "recess-floor", "housing-1"), nullptr);
    EXPECT_NEAR(*find(findings, "recess-floor")->value, 4.0, rounding);
    EXPECT_EQ(find(findings, "recess-floor")->limit, 5.0);
    plan.raised.push_back({"register-A",
                           Side::A,
                           plan::Contour(plan::Circle{{}, 200.0}),
                           {plan::Contour(plan::Circle{{}, 150.0})},
                           5.0});
    EXPECT_EQ(find(judge(plan), "recess-floor"), nullptr);
    plan.raised.clear();
    plan.holes[0].recess->depth_mm = 39.5;
    EXPECT_EQ(find(judge(plan), "recess-floor")->severity, Severity::stop);
    plan.holes[0].recess->depth_mm = 9.0;
    EXPECT_EQ(find(judge(plan), "recess-floor"), nullptr);
}

TEST(RecessFloor, a_recess_over_a_hollow_from_the_other_side_is_found) {
    plan::Plan plan = with(disc(), {clearance("gearbox-1", {100.0, 0.0}, 11.0, "M10", 10.0)});
    plan.holes[0].recess = plan::Recess{Side::B, 27.0, 16.0, {}};
    plan.pockets.push_back(
        pocket("hollow", plan::PocketKind::hollow, Side::A, plan::Contour(plan::Circle{{}, 150.0}), 22.0));
    const auto findings = judge(plan);
    ASSERT_NE(find(findings, "recess-floor", "gearbox-1, hollow"), nullptr);
    EXPECT_NEAR(*find(findings, "recess-floor", "gearbox-1, hollow")->value, 2.0, rounding);
}

TEST(HoleFloor, the_drill_point_is_counted) {
    // 118 degrees: 0.3004 d (a trade article on drilling depths), 2.554 mm at 8.5 mm.
    const double point_mm = 4.25 / std::tan(59.0 * std::numbers::pi / 180.0);
    plan::Plan plan = with(disc(), {blind("gearbox-1", {100.0, 0.0}, 8.5, Side::B, 40.0 - point_mm - 0.6)});
    const auto findings = judge(plan);
    ASSERT_NE(find(findings, "hole-floor", "gearbox-1"), nullptr);
    EXPECT_NEAR(*find(findings, "hole-floor")->value, 0.6, rounding);
    EXPECT_EQ(find(findings, "hole-floor")->severity, Severity::warn);
    plan.holes[0].depth_mm -= 0.3;
    EXPECT_EQ(find(judge(plan), "hole-floor"), nullptr);
}

TEST(DrillThrough, a_point_that_comes_out_is_a_stop_that_can_be_lifted) {
    plan::Plan plan = with(disc(), {blind("gearbox-1", {100.0, 0.0}, 8.5, Side::B, 39.0)});
    const auto findings = judge(plan);
    const plan::Finding* finding = find(findings, "drill-through", "gearbox-1");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->severity, Severity::stop);
    EXPECT_FALSE(finding->final);
    EXPECT_NEAR(*finding->value, 39.0 + 8.5 * 0.30043 - 40.0, 1e-4);
    EXPECT_EQ((*finding->at_mm)[2], 0.0);
    plan.holes[0].point_angle.reset();
    EXPECT_EQ(find(judge(plan), "drill-through"), nullptr);
}

TEST(DrillThrough, a_point_that_breaks_into_a_hollow_is_found) {
    plan::Plan plan = with(disc(), {blind("gearbox-1", {100.0, 0.0}, 8.5, Side::B, 17.0)});
    plan.pockets.push_back(
        pocket("hollow", plan::PocketKind::hollow, Side::A, plan::Contour(plan::Circle{{}, 150.0}), 22.0));
    ASSERT_NE(find(judge(plan), "drill-through"), nullptr);
    plan.holes[0].depth_mm = 14.0;
    EXPECT_EQ(find(judge(plan), "drill-through"), nullptr);
    plan.holes[0].depth_mm = 30.0;
    const auto through = judge(plan);
    ASSERT_NE(find(through, "drill-through"), nullptr);
    EXPECT_EQ(find(through, "drill-through")->severity, Severity::warn);
}

}  // namespace
}  // namespace fitup::rules
