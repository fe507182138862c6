// Rules about where cuts are: off-part, holes-meeting, doubled-hole.
#include <gtest/gtest.h>

#include "rules/plates.hpp"

namespace fitup::rules {
namespace {

using namespace plates;
using plan::Severity;
using plan::Side;

void expect_final(const plan::Plan& plan, const std::string& rule, const std::string& where) {
    const auto findings = judge(plan);
    const plan::Finding* finding = find(findings, rule, where);
    ASSERT_NE(finding, nullptr) << rule << " " << where;
    EXPECT_EQ(finding->severity, Severity::stop);
    EXPECT_TRUE(finding->final);
    EXPECT_FALSE(finding->message.empty());
    ASSERT_TRUE(finding->at_mm);
}

TEST(OffPart, a_hole_outside_or_across_the_outline_is_a_final_stop) {
    expect_final(with(disc(), {hole("gearbox-1", {300.0, 0.0}, 10.0)}), "off-part", "gearbox-1");
    expect_final(with(disc(), {hole("gearbox-1", {212.0, 0.0}, 10.0)}), "off-part", "gearbox-1");
    EXPECT_EQ(find(judge(with(disc(), {hole("gearbox-1", {180.0, 0.0}, 10.0)})), "off-part"), nullptr);
}

TEST(OffPart, an_inch_figure_read_as_millimetres_is_told_with_the_place) {
    const auto findings = judge(with(disc(), {hole("gearbox-1", {0.0, 381.0}, 10.0)}));
    ASSERT_NE(find(findings, "off-part"), nullptr);
    EXPECT_EQ((*find(findings, "off-part")->at_mm)[1], 381.0);
}

TEST(OffPart, a_bore_as_large_as_the_plate_leaves_nothing) {
    expect_final(with(disc(), {bore(430.0)}), "nothing-left", "bore");
    expect_final(with(disc(), {bore(500.0)}), "nothing-left", "bore");
    EXPECT_EQ(find(judge(with(disc(), {bore(300.0)})), "nothing-left"), nullptr);
}

TEST(OffPart, a_spigot_wider_than_the_outline_is_a_final_stop) {
    plan::Plan plan = with(disc(350.0), {bore(150.0)});
    plan.raised.push_back({"register-A",
                           Side::A,
                           plan::Contour(plan::Circle{{}, 180.95}),
                           {plan::Contour(plan::Circle{{}, 165.0})},
                           5.0});
    expect_final(plan, "off-part", "register-A");
    plan.body.outline = plan::Contour(plan::Circle{{}, 215.0});
    EXPECT_EQ(find(judge(plan), "off-part"), nullptr);
}

TEST(OffPart, a_relief_that_misses_the_part_is_a_final_stop_and_one_that_runs_out_over_the_edge_warns) {
    plan::Plan plan = disc();
    plan.pockets.push_back(pocket("relief-1", plan::PocketKind::relief, Side::B,
                                  plan::Contour(plan::Circle{{300.0, 0.0}, 25.0}), 10.0));
    expect_final(plan, "off-part", "relief-1");
    plan.pockets[0].areas[0].outer = plan::Contour(plan::Circle{{215.0, 0.0}, 25.0});
    const auto findings = judge(plan);
    EXPECT_EQ(find(findings, "off-part"), nullptr);
    ASSERT_NE(find(findings, "rim", "relief-1"), nullptr);
    EXPECT_EQ(find(findings, "rim", "relief-1")->severity, Severity::warn);
}

TEST(OffPart, a_hole_that_a_pocket_takes_away_is_a_final_stop) {
    plan::Plan plan = with(disc(), {blind("gearbox-1", {100.0, 0.0}, 10.0, Side::B, 8.0)});
    plan.pockets.push_back(pocket("relief-1", plan::PocketKind::relief, Side::B,
                                  plan::Contour(plan::Circle{{100.0, 0.0}, 25.0}), 12.0));
    expect_final(plan, "off-part", "gearbox-1");
    plan.holes[0].depth_mm = 20.0;
    EXPECT_EQ(find(judge(plan), "off-part"), nullptr);
}

TEST(HolesMeeting, a_stud_hole_that_breaks_into_the_one_from_the_other_side_is_found_in_depth) {
    // Same place in plan view, 12 mm apart; one 26 deep from B, the other from A.
    plan::Plan plan = with(disc(), {tapped("gearbox-1", {100.0, 0.0}, 20.0, 26.0),
                                    blind("housing-1", {106.0, 0.0}, 8.5, Side::A, 20.0)});
    expect_final(plan, "holes-meeting", "gearbox-1, housing-1");
    plan.holes[1].depth_mm = 8.0;
    EXPECT_EQ(find(judge(plan), "holes-meeting"), nullptr);
    plan.holes[1].at_mm = {120.0, 0.0};
    plan.holes[1].depth_mm = 20.0;
    EXPECT_EQ(find(judge(plan), "holes-meeting"), nullptr);
}

TEST(HolesMeeting, drill_points_count) {
    // Both 18 deep of 40: full diameters 4 mm apart, but each point is 2.55 high.
    plan::Plan plan = with(disc(), {blind("gearbox-1", {100.0, 0.0}, 8.5, Side::B, 18.0),
                                    blind("housing-1", {100.0, 0.0}, 8.5, Side::A, 18.0)});
    expect_final(plan, "holes-meeting", "gearbox-1, housing-1");
    plan.holes[0].point_angle.reset();
    plan.holes[1].point_angle.reset();
    EXPECT_EQ(find(judge(plan), "holes-meeting"), nullptr);
}

TEST(HolesMeeting, a_hole_into_the_bore_is_meeting_but_a_recess_into_the_bore_only_warns) {
    expect_final(with(disc(), {bore(150.0), hole("gearbox-1", {78.0, 0.0}, 10.0)}), "holes-meeting",
                 "bore, gearbox-1");
    plan::Plan plan = with(disc(), {bore(150.0), hole("gearbox-1", {85.0, 0.0}, 10.0)});
    plan.holes[1].recess = plan::Recess{Side::B, 27.0, 9.0, {}};
    const auto findings = judge(plan);
    EXPECT_EQ(find(findings, "holes-meeting"), nullptr);
    const plan::Finding* web = find(findings, "web", "bore, gearbox-1");
    ASSERT_NE(web, nullptr);
    EXPECT_EQ(web->severity, Severity::warn);
    EXPECT_EQ(web->value, 0.0);
    EXPECT_FALSE(web->final);
}

TEST(HolesMeeting, a_recess_across_another_hole_stops_but_can_be_lifted) {
    plan::Plan plan =
        with(disc(), {hole("gearbox-1", {100.0, 0.0}, 10.0), tapped("housing-1", {116.0, 0.0}, 20.0, 26.0)});
    plan.holes[0].recess = plan::Recess{Side::B, 27.0, 9.0, {}};
    const auto findings = judge(plan);
    const plan::Finding* web = find(findings, "web", "gearbox-1, housing-1");
    ASSERT_NE(web, nullptr);
    EXPECT_EQ(web->severity, Severity::stop);
    EXPECT_FALSE(web->final);
}

TEST(HolesMeeting, a_hollow_and_a_relief_may_open_into_the_bore_and_each_other) {
    plan::Plan plan = with(disc(), {bore(150.0)});
    plan.pockets.push_back(
        pocket("hollow", plan::PocketKind::hollow, Side::A, plan::Contour(plan::Circle{{}, 120.0}), 15.0));
    plan.pockets.push_back(pocket("relief-1", plan::PocketKind::relief, Side::A,
                                  plan::Contour(plan::Circle{{120.0, 0.0}, 20.0}), 20.0));
    const auto findings = judge(plan);
    EXPECT_EQ(find(findings, "holes-meeting"), nullptr);
    EXPECT_EQ(find(findings, "web"), nullptr);
}

TEST(DoubledHole, the_same_point_twice_is_called_doubled) {
    plan::Plan plan =
        with(disc(), {hole("gearbox-1", {100.0, 0.0}, 10.0), hole("gearbox-2", {0.0, 100.0}, 10.0),
                      hole("gearbox-3", {100.0, 0.0}, 10.0)});
    expect_final(plan, "doubled-hole", "gearbox-1, gearbox-3");
    EXPECT_EQ(find(judge(plan), "holes-meeting"), nullptr);
    plan.holes[2].at_mm = {-100.0, 0.0};
    EXPECT_EQ(find(judge(plan), "doubled-hole"), nullptr);
}

TEST(Findings, stops_come_first_and_notes_last_and_the_same_plan_gives_the_same_list) {
    const plan::Plan plan =
        with(disc(), {hole("gearbox-1", {300.0, 0.0}, 10.0), tapped("gearbox-2", {100.0, 0.0}, 15.0, 16.0),
                      blind("gearbox-3", {-100.0, 0.0}, 10.0, Side::B, 39.0)});
    const auto findings = judge(plan);
    EXPECT_TRUE(std::is_sorted(findings.begin(), findings.end(),
                               [](const auto& a, const auto& b) { return a.severity > b.severity; }));
    ASSERT_FALSE(findings.empty());
    EXPECT_TRUE(findings.front().final);
    const auto again = judge(plan);
    ASSERT_EQ(findings.size(), again.size());
    for (std::size_t i = 0; i < findings.size(); ++i) EXPECT_EQ(findings[i].message, again[i].message);
}

}  // namespace
}  // namespace fitup::rules
