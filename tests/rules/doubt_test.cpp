// Rules on holes that a survey placed: its uncertainty is counted, two standard deviations.
#include <gtest/gtest.h>

#include "rules/plates.hpp"

namespace fitup::rules {
namespace {

using namespace plates;
using plan::Severity;

bool says(const plan::Finding& finding, const std::string& words) {
    return finding.message.find(words) != std::string::npos;
}

/// Clearance holes of 11 for M10 on studs that were measured; one of them less well.
plan::Plan measured(double sigma_mm, double worst_mm) {
    plan::Plan plan = with(disc(), {clearance("gearbox-1", {150.0, 0.0}, 11.0, "M10", 10.0),
                                    clearance("gearbox-2", {0.0, 150.0}, 11.0, "M10", 10.0),
                                    clearance("gearbox-3", {-120.0, -90.0}, 11.0, "M10", 10.0)});
    for (plan::Hole& hole : plan.holes) hole.position_sigma_mm = sigma_mm;
    plan.holes[1].position_sigma_mm = worst_mm;
    add_pattern(plan, "gearbox").survey = "face.result.json";
    plan.patterns.back().datum = "mean of 1 and 2";
    plan.patterns.back().measured_on = true;
    plan.patterns.back().seen_from = plan::Side::A;
    return plan;
}

TEST(Doubt, takes_the_other_parts_share_of_the_clearance) {
    const auto findings = judge(measured(0.02, 0.1));
    const plan::Finding* finding = find(findings, "position-tolerance", "gearbox");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->severity, Severity::note);
    // 1 mm between bolt and hole, less 2 x 0.2 mm that the worst stud may stand off.
    EXPECT_NEAR(*finding->value, 0.6, 1e-12);
    EXPECT_TRUE(says(*finding, "gearbox-2 uncertain by 0.2 mm")) << finding->message;
    EXPECT_TRUE(says(*finding, "two standard deviations"));
    // Plate's hole off by half its zone, stud by the doubt: the bolt must just go in.
    EXPECT_NEAR(10.0 / 2 + *finding->value / 2 + 0.2, 11.0 / 2, 1e-12);
}

TEST(Doubt, little_left_warns_and_nothing_left_stops) {
    EXPECT_EQ(find(judge(measured(0.02, 0.23)), "position-tolerance")->severity, Severity::warn);
    const auto findings = judge(measured(0.02, 0.26));
    const plan::Finding* finding = find(findings, "position-tolerance");
    EXPECT_EQ(finding->severity, Severity::stop);
    EXPECT_FALSE(finding->final);
    EXPECT_NEAR(*finding->value, -0.04, 1e-12);
    EXPECT_TRUE(says(*finding, "open them to 11.04 mm")) << finding->message;
    // The file may say otherwise, as of every rule.
    plan::Plan plan = measured(0.02, 0.26);
    plan.rule_overrides.push_back({"position-tolerance", -1.0, -1.0, 3});
    EXPECT_EQ(find(judge(plan), "position-tolerance")->severity, Severity::note);
}

TEST(Doubt, without_a_survey_nothing_changes) {
    plan::Plan plan = measured(0.02, 0.26);
    for (plan::Hole& hole : plan.holes) hole.position_sigma_mm.reset();
    plan.patterns[0].survey.clear();
    const auto findings = judge(plan);
    EXPECT_NEAR(*find(findings, "position-tolerance")->value, 0.5, 1e-12);
    EXPECT_FALSE(says(*find(findings, "position-tolerance"), "survey"));
}

TEST(Doubt, the_survey_and_its_datum_are_said_back) {
    const auto findings = judge(measured(0.02, 0.02));
    EXPECT_TRUE(says(*find(findings, "pattern-side"),
                     "gearbox: from the survey face.result.json (datum: mean of 1 and 2), measured on the "
                     "casting at B, so X is mirrored"))
        << find(findings, "pattern-side")->message;
}

TEST(Doubt, dowels_that_are_not_reamed_at_assembly_warn) {
    plan::Plan plan = with(disc(), {hole("pins-1", {100.0, 0.0}, 12.0), hole("pins-2", {-100.0, 0.0}, 12.0)});
    for (plan::Hole& one : plan.holes) {
        one.kind = plan::HoleKind::dowel;
        one.position_sigma_mm = 0.03;
    }
    add_pattern(plan, "pins").survey = "face.result.json";
    const auto findings = judge(plan);
    ASSERT_NE(find(findings, "position-tolerance"), nullptr);
    EXPECT_EQ(find(findings, "position-tolerance")->severity, Severity::warn);
    EXPECT_TRUE(says(*find(findings, "position-tolerance"), "at assembly"));
    for (plan::Hole& one : plan.holes) one.finish_diameter_mm = 12.0;
    EXPECT_EQ(find(judge(plan), "position-tolerance"), nullptr);
}

/// Two drilled holes of 10, the metal between them as given.
plan::Plan two_holes(double wall_mm, double sigma_mm) {
    plan::Plan plan =
        with(disc(), {hole("p-1", {0.0, 100.0}, 10.0), hole("p-2", {10.0 + wall_mm, 100.0}, 10.0)});
    for (plan::Hole& one : plan.holes) one.position_sigma_mm = sigma_mm;
    plan.holes[0].pattern = "p";
    plan.holes[1].pattern = "q";
    return plan;
}

TEST(Doubt, of_one_pattern_is_never_taken_too_small) {
    plan::Plan plan = two_holes(2.85, 0.1);
    EXPECT_EQ(find(judge(plan), "web"), nullptr);
    plan.holes[1].pattern = "p";
    const auto findings = judge(plan);
    ASSERT_NE(find(findings, "web"), nullptr);
    EXPECT_TRUE(says(*find(findings, "web"), "0.4 mm")) << find(findings, "web")->message;
    plan.holes[1].at_mm.x_mm += 0.06;
    EXPECT_EQ(find(judge(plan), "web"), nullptr);
}

TEST(Doubt, a_wall_within_the_doubt_of_its_limit_is_noted) {
    // The limit is a quarter of the diameter, 2.5; two holes of 0.1 make a doubt of 0.2 x root 2 = 0.283.
    const auto findings = judge(two_holes(2.7, 0.1));
    const plan::Finding* finding = find(findings, "web");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->severity, Severity::note);
    EXPECT_NEAR(*finding->value, 2.7, 1e-9);
    EXPECT_TRUE(says(*finding, "0.283 mm")) << finding->message;
    EXPECT_EQ(find(judge(two_holes(2.79, 0.1)), "web"), nullptr);
    EXPECT_EQ(find(judge(two_holes(2.7, 0.0)), "web"), nullptr);
    EXPECT_EQ(find(judge(two_holes(2.4, 0.1)), "web")->severity, Severity::warn);
    // Doubts wider than the reach of every limit are seen as well.
    EXPECT_NE(find(judge(two_holes(12.0, 4.0)), "web"), nullptr);
}

TEST(Doubt, an_edge_within_the_doubt_of_its_limit_is_noted) {
    // Aluminium, M10 clearance: 1.5 d is 15 mm from the centre to the outline of 215.
    plan::Plan plan = with(disc(), {clearance("p-1", {199.9, 0.0}, 11.0, "M10", 10.0)});
    EXPECT_EQ(find(judge(plan), "edge-distance"), nullptr);
    plan.holes[0].position_sigma_mm = 0.1;
    const auto findings = judge(plan);
    ASSERT_NE(find(findings, "edge-distance", "p-1"), nullptr);
    EXPECT_EQ(find(findings, "edge-distance")->severity, Severity::note);
    EXPECT_TRUE(says(*find(findings, "edge-distance"), "0.2 mm"));
    plan.holes[0].position_sigma_mm = 0.04;
    EXPECT_EQ(find(judge(plan), "edge-distance"), nullptr);
}

}  // namespace
}  // namespace fitup::rules
