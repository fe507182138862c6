// Rules about patterns and threads as a whole: pattern-side, mirrored-pattern, position-tolerance,
// look-alike-thread.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "rules/plates.hpp"

namespace fitup::rules {
namespace {

using namespace plates;
using plan::Severity;
using plan::Side;

constexpr double rounding = 1e-9;

bool says(const plan::Finding& finding, const std::string& words) {
    return finding.message.find(words) != std::string::npos;
}

plan::Point at(double radius_mm, double angle_deg) {
    const double angle_rad = angle_deg * std::numbers::pi / 180.0;
    return {radius_mm * std::cos(angle_rad), radius_mm * std::sin(angle_rad)};
}

/// M10 holes on a circle of 150 mm radius.
plan::Plan gearbox(const std::vector<double>& angles_deg) {
    plan::Plan plan = disc();
    int ordinal = 0;
    for (const double angle_deg : angles_deg)
        plan.holes.push_back(
            clearance("gearbox-" + std::to_string(++ordinal), at(150.0, angle_deg), 11.0, "M10", 10.0));
    add_pattern(plan, "gearbox");
    return plan;
}

TEST(PatternSide, says_back_where_a_pattern_was_seen_from_and_names_the_first_hole_there_is) {
    plan::Plan plan = with(disc(), {hole("gearbox-2", {-38.4, 112.6}, 10.0)});
    add_pattern(plan, "gearbox").seen_from = Side::A;
    plan.patterns[0].measured_on = true;
    const auto mirrored = judge(plan);
    const plan::Finding* finding = find(mirrored, "pattern-side", "gearbox");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->severity, Severity::note);
    EXPECT_TRUE(
        says(*finding,
             "gearbox: measured on the casting at B, so X is mirrored; hole 2 lies left of the centre "
             "seen on face B, at X -38.4, Y 112.6 mm."))
        << finding->message;
    EXPECT_EQ((*finding->at_mm)[0], -38.4);
    plan.patterns[0].seen_from = Side::B;
    plan.patterns[0].measured_on = false;
    const auto as_given = judge(plan);
    EXPECT_TRUE(says(*find(as_given, "pattern-side"), "seen from face B, X as given; hole 2"));
    EXPECT_EQ(find(judge(disc()), "pattern-side"), nullptr);
}

TEST(MirroredPattern, one_hole_that_tells_the_sides_apart_is_named) {
    // Symmetric about X save for the last hole.
    const auto findings = judge(gearbox({20.0, 75.0, 140.0, -20.0, -75.0, -133.0}));
    const plan::Finding* finding = find(findings, "mirrored-pattern");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->severity, Severity::warn);
    EXPECT_EQ(finding->value, 4.0);
    EXPECT_EQ(finding->limit, 3.0);
    EXPECT_EQ(finding->where, "gearbox-3");
    EXPECT_TRUE(says(*finding, "4 of 6 holes")) << finding->message;
    EXPECT_TRUE(says(*finding, "gearbox-3 and gearbox-6 tell the sides apart")) << finding->message;
}

TEST(MirroredPattern, a_pattern_without_likeness_is_not_spoken_of) {
    // No three holes have a common axis within the half millimetre that M10 has in 11 mm.
    EXPECT_EQ(find(judge(gearbox({0.0, 31.0, 84.0, 160.0, 214.0})), "mirrored-pattern"), nullptr);
}

TEST(MirroredPattern, two_holes_of_one_radius_among_few_say_nothing) {
    EXPECT_EQ(find(judge(gearbox({0.0, 50.0, 170.0})), "mirrored-pattern"), nullptr);
    plan::Plan plan = gearbox({0.0, 50.0});
    plan.holes.push_back(clearance("gearbox-3", at(120.0, 77.0), 11.0, "M10", 10.0));
    plan.holes.push_back(clearance("gearbox-4", at(135.0, 204.0), 11.0, "M10", 10.0));
    plan.patterns.clear();
    add_pattern(plan, "gearbox");
    EXPECT_EQ(find(judge(plan), "mirrored-pattern"), nullptr);
}

TEST(MirroredPattern, a_pattern_that_is_its_own_image_is_noted_however_large) {
    std::vector<double> angles_deg;
    for (int i = 0; i < 24; ++i) angles_deg.push_back(15.0 * i + 4.0);
    const auto findings = judge(gearbox(angles_deg));
    ASSERT_NE(find(findings, "mirrored-pattern", "gearbox"), nullptr);
    EXPECT_EQ(find(findings, "mirrored-pattern")->severity, Severity::note);
    EXPECT_TRUE(says(*find(findings, "mirrored-pattern"), "all 24 holes"));
}

TEST(MirroredPattern, over_a_hundred_and_twenty_holes_are_looked_at_too) {
    plan::Plan plan = disc(900.0);
    for (int i = 0; i < 150; ++i)
        plan.holes.push_back(
            hole("grid-" + std::to_string(i + 1), at(400.0, i == 40 ? 2.4 * i + 0.9 : 2.4 * i), 6.0));
    add_pattern(plan, "grid");
    const auto findings = judge(plan);
    const plan::Finding* finding = find(findings, "mirrored-pattern", "grid-41");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->severity, Severity::warn);
    EXPECT_EQ(finding->value, 149.0);
}

// ASME Y14.5 (from memory, unverified): floating fastener T = H - F for each part; fixed fastener T = (H - F)
// / 2 for each part. A worked example by the formulas: M10 in an 11.0 mm hole gives 1.0 floating and 0.5
// fixed; a 6.00 mm screw in 6.44 mm gives 0.44 and 0.22. The bolt of the greatest size in the hole of the
// least, both holes off by half their zone towards one another, must just go in: checked below.
struct Fixed {
    double hole_mm;
    double fastener_mm;
    double fixed_mm;
};
class PositionTolerance : public testing::TestWithParam<Fixed> {};

TEST_P(PositionTolerance, is_half_the_clearance_fixed_and_all_of_it_floating) {
    const auto [hole_mm, fastener_mm, fixed_mm] = GetParam();
    plan::Plan plan = with(disc(), {clearance("gearbox-1", {150.0, 0.0}, hole_mm, "screw", fastener_mm)});
    add_pattern(plan, "gearbox");
    const auto findings = judge(plan);
    const plan::Finding* finding = find(findings, "position-tolerance", "gearbox");
    ASSERT_NE(finding, nullptr);
    EXPECT_NEAR(*finding->value, fixed_mm, rounding);
    EXPECT_EQ(finding->severity, Severity::note);
    // Fixed: hole and stud axes each off by T / 2. Floating: each hole off by T / 2 of T = H - F.
    const double axes_apart_mm = *finding->value / 2.0 + *finding->value / 2.0;
    EXPECT_NEAR(fastener_mm / 2.0 + axes_apart_mm, hole_mm / 2.0, rounding);
}
INSTANTIATE_TEST_SUITE_P(Formula, PositionTolerance,
                         testing::Values(Fixed{11.0, 10.0, 0.5}, Fixed{6.44, 6.0, 0.22},
                                         Fixed{10.319, 9.525, 0.397}));

TEST(PositionTolerance, both_cases_are_told_and_a_tight_hole_warns) {
    plan::Plan plan = with(disc(), {clearance("gearbox-1", {150.0, 0.0}, 6.44, "M6", 6.0)});
    add_pattern(plan, "gearbox");
    const auto findings = judge(plan);
    EXPECT_TRUE(says(*find(findings, "position-tolerance"), "0.22 mm")) << findings[0].message;
    EXPECT_TRUE(says(*find(findings, "position-tolerance"), "0.44 mm"));
    plan.holes[0].diameter_mm = 6.15;
    const auto tight = judge(plan);
    EXPECT_EQ(find(tight, "position-tolerance")->severity, Severity::warn);
    EXPECT_EQ(find(tight, "position-tolerance")->limit, 0.1);
}

TEST(PositionTolerance, a_tapped_hole_takes_the_other_parts_clearance_hole) {
    plan::Plan plan = with(disc(), {tapped("gearbox-1", {150.0, 0.0}, 20.0, 26.0)});
    add_pattern(plan, "gearbox");
    const auto findings = judge(plan);
    ASSERT_NE(find(findings, "position-tolerance"), nullptr);
    EXPECT_NEAR(*find(findings, "position-tolerance")->value, 0.5, rounding);  // ISO 273 medium: M10 in 11
    EXPECT_TRUE(says(*find(findings, "position-tolerance"), "projected"));
    plan.holes[0] = hole("gearbox-1", {150.0, 0.0}, 10.0);
    EXPECT_EQ(find(judge(plan), "position-tolerance"), nullptr);
}

TEST(LookAlikeThread, one_finding_a_thread_names_its_holes_and_its_twins) {
    plan::Plan plan =
        with(disc(),
             {tapped("gearbox-1", {100.0, 0.0}, 20.0, 26.0), tapped("gearbox-2", {0.0, 100.0}, 20.0, 26.0),
              tapped("gearbox-3", {-100.0, 0.0}, 20.0, 26.0), tapped("pads-1", {0.0, -100.0}, 20.0, 26.0)});
    const auto findings = judge(plan);
    const auto is_it = [](const plan::Finding& finding) { return finding.rule == "look-alike-thread"; };
    ASSERT_EQ(std::count_if(findings.begin(), findings.end(), is_it), 1);
    const plan::Finding* finding = find(findings, "look-alike-thread", "gearbox-1 to gearbox-3, pads-1");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->severity, Severity::note);
    EXPECT_TRUE(says(*finding, "3/8-16 UNC")) << finding->message;
    EXPECT_TRUE(says(*finding, "pitch gauge"));
}

TEST(LookAlikeThread, a_clearance_hole_for_three_eighths_beside_m10_warns) {
    plan::Plan plan = with(disc(), {clearance("housing-1", {150.0, 0.0}, 10.319, "3/8", 9.525),
                                    tapped("gearbox-1", {100.0, 0.0}, 20.0, 26.0)});
    const auto findings = judge(plan);
    const plan::Finding* finding = find(findings, "look-alike-thread", "housing-1");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->severity, Severity::warn);
    EXPECT_TRUE(says(*finding, "M10 passes through the clearance hole (10.32 mm (0.406 in)) too"))
        << finding->message;
    plan.holes.pop_back();
    const auto alone = judge(plan);
    EXPECT_EQ(find(alone, "look-alike-thread", "housing-1")->severity, Severity::note);
}

TEST(LookAlikeThread, a_thread_without_a_twin_and_a_plain_hole_say_nothing) {
    plan::Plan plan = with(disc(), {hole("gearbox-1", {100.0, 0.0}, 10.0)});
    EXPECT_EQ(find(judge(plan), "look-alike-thread"), nullptr);
    plan.holes[0] = tapped("gearbox-1", {100.0, 0.0}, 20.0, 26.0);
    plan.holes[0].thread->designation = "a thread of one's own";
    EXPECT_EQ(find(judge(plan), "look-alike-thread"), nullptr);
}

}  // namespace
}  // namespace fitup::rules
