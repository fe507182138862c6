// Rules register-fit, register-slack, register-cut.
#include <gtest/gtest.h>

#include "rules/plates.hpp"

namespace fitup::rules {
namespace {

using namespace plates;
using plan::Severity;
using plan::Side;

/// Products of diameters below 1000 mm: doubles round at 1e-13.
constexpr double rounding = 1e-9;

plan::Plan with_spigot(double diameter_mm, double mates_mm) {
    plan::Plan plan = with(disc(), {bore(150.0)});
    plan.raised.push_back({"register-A",
                           Side::A,
                           plan::Contour(plan::Circle{{}, diameter_mm / 2.0}),
                           {plan::Contour(plan::Circle{{}, 165.0})},
                           5.0});
    plan.registers.push_back({Side::A, true, diameter_mm, 5.0, mates_mm, {}, {}});
    plan.side_materials[0] = iron();
    return plan;
}

TEST(RegisterFit, an_aluminium_spigot_in_an_iron_housing_binds_when_warm) {
    const auto findings = judge(with_spigot(361.9, 361.95));
    const plan::Finding* fit = find(findings, "register-fit", "register-A");
    ASSERT_NE(fit, nullptr);
    EXPECT_EQ(fit->severity, Severity::warn);
    // By hand, 60 K, 23.6e-6 and 10.5e-6 a kelvin: 361.95 + 0.2280285 - 361.9 - 0.5124504 = -0.2344219.
    EXPECT_NEAR(*fit->value, -0.2344219, rounding);
    EXPECT_EQ(fit->unit, "mm");
    EXPECT_NE(fit->message.find("0.05 mm (2 thou) clearance on the diameter in the shop"), std::string::npos)
        << fit->message;
    EXPECT_NE(fit->message.find("60 K warmer"), std::string::npos);
    EXPECT_NE(fit->message.find("0.234 mm (9.2 thou) interference"), std::string::npos) << fit->message;
}

TEST(RegisterFit, the_same_metal_on_both_sides_stays_as_it_was) {
    plan::Plan plan = with_spigot(361.9, 361.95);
    plan.material = iron();
    const auto findings = judge(plan);
    const plan::Finding* fit = find(findings, "register-fit");
    ASSERT_NE(fit, nullptr);
    EXPECT_EQ(fit->severity, Severity::note);
    EXPECT_NEAR(*fit->value, 0.05, rounding);
    EXPECT_EQ(fit->message.find("warmer"), std::string::npos);
}

TEST(RegisterFit, a_casting_of_unknown_metal_is_taken_as_grey_iron_and_that_is_said) {
    plan::Plan plan = with_spigot(361.9, 361.95);
    plan.side_materials[0].reset();
    const auto findings = judge(plan);
    EXPECT_EQ(find(findings, "register-fit")->severity, Severity::warn);
    EXPECT_NE(find(findings, "register-fit")->message.find("taken as such"), std::string::npos);
}

TEST(RegisterFit, an_aluminium_bore_on_an_iron_snout_opens_when_warm) {
    plan::Plan plan = with(disc(), {bore(150.05)});
    plan.holes[0].locates_on_mm = 149.95;
    plan.side_materials[1] = iron();
    const auto findings = judge(plan);
    const plan::Finding* fit = find(findings, "register-fit", "bore");
    ASSERT_NE(fit, nullptr);
    EXPECT_EQ(fit->severity, Severity::note);
    EXPECT_NEAR(*fit->value, 0.1, rounding);
    // 0.1 + 60 x (150.05 x 23.6e-6 - 149.95 x 10.5e-6) = 0.2180023.
    EXPECT_NE(fit->message.find("0.218 mm"), std::string::npos) << fit->message;
}

TEST(RegisterFit, a_press_in_the_shop_warns) {
    plan::Plan plan = with(disc(), {bore(149.9)});
    plan.holes[0].locates_on_mm = 149.95;
    const auto findings = judge(plan);
    EXPECT_EQ(find(findings, "register-fit")->severity, Severity::warn);
    EXPECT_NEAR(*find(findings, "register-fit")->value, -0.05, rounding);
}

// ISO 286-2: H7 at 150 mm is 0 to +40 um.
TEST(RegisterFit, the_limits_of_a_fit_widen_the_clearance) {
    plan::Plan plan = with(disc(), {bore(150.0)});
    plan.material = iron();
    plan.holes[0].locates_on_mm = 149.95;
    plan.side_materials[1] = iron();
    plan.holes[0].fit = plan::Fit{"H7", 150.0, 0.0, 40.0, "ISO 286-2"};
    const auto findings = judge(plan);
    EXPECT_NEAR(*find(findings, "register-fit")->value, 0.05, rounding);
    EXPECT_NE(find(findings, "register-fit")
                  ->message.find("0.05 mm (2 thou) clearance to 0.09 mm (3.5 thou) clearance"),
              std::string::npos)
        << find(findings, "register-fit")->message;
    plan.holes[0].locates_on_mm.reset();
    const auto alone = judge(plan);
    EXPECT_NE(find(alone, "register-fit")->message.find("150 mm (5.9055 in) to 150.04 mm (5.9071 in)"),
              std::string::npos)
        << find(alone, "register-fit")->message;
}

// SAE J617 and J1033 as a clutch maker's manual prints them: No. 4 bore 0.009 in full reading.
TEST(RegisterSlack, more_clearance_than_the_reading_allows_warns) {
    const auto findings = judge(with_spigot(361.7, 361.95));
    ASSERT_NE(find(findings, "register-slack", "register-A"), nullptr);
    EXPECT_NEAR(*find(findings, "register-slack")->value, 0.25, rounding);
    EXPECT_NEAR(*find(findings, "register-slack")->limit, 0.2286, rounding);
    EXPECT_EQ(find(judge(with_spigot(361.73, 361.95)), "register-slack"), nullptr);
}

TEST(RegisterSlack, the_other_parts_upper_limit_counts) {
    plan::Plan plan = with_spigot(361.9, 361.95);
    plan.registers[0].mates_most_mm = 362.08;
    EXPECT_EQ(find(judge(plan), "register-slack"), nullptr);
    plan.registers[0].mates_most_mm = 362.2;
    EXPECT_NEAR(*find(judge(plan), "register-slack")->value, 0.3, rounding);
}

TEST(RegisterCut, a_hole_that_bites_into_the_spigots_edge_is_found_and_one_well_off_it_is_not) {
    plan::Plan plan = with_spigot(361.9, 361.95);
    plan.holes.push_back(clearance("housing-1", {184.0, 0.0}, 10.0, "3/8", 9.525));
    const auto findings = judge(plan);
    const plan::Finding* cut = find(findings, "register-cut", "housing-1, register-A");
    ASSERT_NE(cut, nullptr);
    EXPECT_EQ(cut->severity, Severity::warn);
    EXPECT_EQ(cut->value, 0.0);
    plan.holes[1].at_mm = {190.5, 0.0};
    EXPECT_EQ(find(judge(plan), "register-cut"), nullptr);
    // Blind from the other face: it never reaches the spigot.
    plan.holes[1] = blind("housing-1", {184.0, 0.0}, 10.0, Side::B, 20.0);
    EXPECT_EQ(find(judge(plan), "register-cut"), nullptr);
}

TEST(RegisterCut, a_thin_wall_inside_the_ring_is_measured) {
    plan::Plan plan = with_spigot(361.9, 361.95);
    plan.holes.push_back(hole("drain-1", {173.0, 0.0}, 14.9));
    const auto findings = judge(plan);
    ASSERT_NE(find(findings, "register-cut"), nullptr);
    EXPECT_NEAR(*find(findings, "register-cut")->value, 180.95 - 173.0 - 7.45, rounding);
}

TEST(RegisterCut, a_pocket_that_takes_the_ring_away_is_found) {
    plan::Plan plan = with_spigot(361.9, 361.95);
    plan.pockets.push_back(
        pocket("hollow", plan::PocketKind::hollow, Side::A, plan::Contour(plan::Circle{{}, 190.0}), 10.0));
    EXPECT_EQ(find(judge(plan), "register-cut")->value, 0.0);
    plan.pockets[0].areas[0].outer = plan::Contour(plan::Circle{{}, 160.0});
    EXPECT_EQ(find(judge(plan), "register-cut"), nullptr);
}

}  // namespace
}  // namespace fitup::rules
