// Link rods: a file with the mistake gets the finding, its twin without it does not.
#include "parts/rods.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "parts/kinds.hpp"
#include "rules/rules.hpp"

namespace fitup::rules {
namespace {

using parts::testing::RodText;
using parts::testing::two_fittings;

plan::Findings judged(const RodText& rod) {
    const parts::Planned planned = parts::plan_file(parts::testing::rod_text(rod), "r.json");
    if (!planned.plan) throw std::invalid_argument(parameters::to_text(planned.faults.front()));
    return judge(*planned.plan);
}

const plan::Finding* find(const plan::Findings& findings, const std::string& rule) {
    for (const plan::Finding& finding : findings) {
        if (finding.rule == rule) return &finding;
    }
    return nullptr;
}

RodText bent_by(const std::string& radius) {
    return {.path = R"("path": [[0,0,0], [120,0,0], [120,120,0]], "bend_radius": )" + radius,
            .ends = "[{}, {}]"};
}

TEST(BendRadius, of_8_mm_steel_warns_under_2_d_inside_and_stops_under_1_d) {
    EXPECT_EQ(find(judged(bent_by("20")), "bend-radius"), nullptr) << "2 d inside passes";
    const auto tight = judged(bent_by("19"));
    ASSERT_NE(find(tight, "bend-radius"), nullptr);
    EXPECT_EQ(find(tight, "bend-radius")->severity, plan::Severity::warn);
    EXPECT_DOUBLE_EQ(*find(tight, "bend-radius")->value, 19 / 8.0 - 0.5);
    EXPECT_EQ(find(judged(bent_by("11")), "bend-radius")->severity, plan::Severity::stop);
}

TEST(BendRadius, hangs_on_the_material_and_the_thickness) {
    RodText rod = bent_by("22");
    EXPECT_EQ(find(judged(rod), "bend-radius"), nullptr);
    rod.material = R"("stainless 304")";
    EXPECT_NE(find(judged(rod), "bend-radius"), nullptr);
    rod.material = R"("cast iron")";
    EXPECT_EQ(find(judged(rod), "bend-radius")->severity, plan::Severity::stop);
    RodText thick = bent_by("60");
    thick.diameter = "20";
    EXPECT_NE(find(judged(thick), "bend-radius"), nullptr) << "3.5 d over 16 mm";
    thick.diameter = "16";
    EXPECT_EQ(find(judged(thick), "bend-radius"), nullptr);
}

TEST(BentRod, is_noted_with_what_its_bends_cost_and_a_straight_one_is_not) {
    const auto bent = judged(bent_by("24"));
    ASSERT_NE(find(bent, "bent-rod"), nullptr);
    EXPECT_EQ(find(bent, "bent-rod")->severity, plan::Severity::note);
    EXPECT_EQ(find(judged({.path = R"("length": 200)", .ends = "[{}, {}]"}), "bent-rod"), nullptr);
}

TEST(StraightLength, between_bends_wants_2_d_and_beside_a_thread_1_d) {
    const auto with_rise = [](const std::string& rise, const std::string& ends) {
        return judged({.path = R"("path": [[0,0,0], [120,0,0], [120,)" + rise + R"(,0], [240,)" + rise +
                               R"(,0]], "bend_radius": 24)",
                       .ends = ends});
    };
    EXPECT_EQ(find(with_rise("64", "[{}, {}]"), "straight-length"), nullptr) << "16 mm between the bends";
    const auto near = with_rise("63", "[{}, {}]");
    ASSERT_NE(find(near, "straight-length"), nullptr);
    EXPECT_EQ(find(near, "straight-length")->where, "straight-2");
    EXPECT_NEAR(*find(near, "straight-length")->value, 15 / 8.0, 1e-9);
    EXPECT_EQ(find(with_rise("64", R"([{"thread": "M8", "length": 88}, {}])"), "straight-length"), nullptr);
    const auto beside = with_rise("64", R"([{"thread": "M8", "length": 89}, {}])");
    ASSERT_NE(find(beside, "straight-length"), nullptr);
    EXPECT_EQ(find(beside, "straight-length")->where, "straight-1");
}

RodText fitted(const std::string& fitting) {
    return {.path = R"("length": 200)",
            .ends = R"([{"thread": "M8", "length": 25}, {}])",
            .more = R"("fittings": [)" + fitting + R"(, "none"])"};
}

TEST(ThreadEngagement, in_a_fitting_warns_under_1_d_and_stops_under_a_nuts_height) {
    EXPECT_EQ(
        find(judged(fitted(R"({"pin_offset": 30, "thread_depth": 18, "engaged": 8})")), "thread-engagement"),
        nullptr);
    const auto little = judged(fitted(R"({"pin_offset": 30, "thread_depth": 18, "engaged": 7})"));
    ASSERT_NE(find(little, "thread-engagement"), nullptr);
    EXPECT_EQ(find(little, "thread-engagement")->severity, plan::Severity::warn);
    EXPECT_EQ(
        find(judged(fitted(R"({"pin_offset": 30, "thread_depth": 18, "engaged": 6})")), "thread-engagement")
            ->severity,
        plan::Severity::stop);
}

TEST(AdjustmentRule, warns_when_it_runs_out_either_way) {
    // M8: half a turn is 0.625 mm. From 9.3 engaged one diameter is two half turns away; from 9.2 only one.
    EXPECT_EQ(find(judged(fitted(R"({"pin_offset": 30, "thread_depth": 18, "engaged": 9.3})")), "adjustment"),
              nullptr);
    const auto out = judged(fitted(R"({"pin_offset": 30, "thread_depth": 18, "engaged": 9.2})"));
    ASSERT_NE(find(out, "adjustment"), nullptr);
    EXPECT_DOUBLE_EQ(*find(out, "adjustment")->value, 1);
    EXPECT_NE(find(judged(fitted(R"({"pin_offset": 30, "thread_depth": 18, "engaged": 17})")), "adjustment"),
              nullptr);
    EXPECT_EQ(find(judged({.path = R"("length": 200)", .ends = "[{}, {}]"}), "adjustment"), nullptr)
        << "nothing to screw";
}

/// 8 mm steel, 300 mm from end to end, pinned: Euler's load is pi^2 E I / L^2 = 4409.8 N.
TEST(BucklingRule, wants_a_factor_of_three_and_never_less_than_one) {
    const auto pushed = [](const std::string& newtons) {
        return judged(
            {.path = R"("length": 300)", .ends = "[{}, {}]", .more = R"("load": {"push": )" + newtons + "}"});
    };
    EXPECT_EQ(find(pushed("1469"), "buckling"), nullptr);
    const auto warned = pushed("1471");
    ASSERT_NE(find(warned, "buckling"), nullptr);
    EXPECT_EQ(find(warned, "buckling")->severity, plan::Severity::warn);
    EXPECT_NEAR(*find(warned, "buckling")->value, 4409.8 / 1471, 1e-3);
    EXPECT_EQ(find(pushed("4420"), "buckling")->severity, plan::Severity::stop);
    EXPECT_EQ(
        find(judged({.path = R"("length": 300)", .ends = "[{}, {}]", .more = R"("load": {"pull": 9000})"}),
             "buckling"),
        nullptr)
        << "a pull does not buckle";
}

TEST(BucklingRule, says_when_the_material_lacks_the_figure) {
    const auto found = judged({.material = R"({"name": "unknown", "density": 5000})",
                               .path = R"("length": 300)",
                               .ends = "[{}, {}]",
                               .more = R"("load": {"push": 10})"});
    ASSERT_NE(find(found, "buckling"), nullptr);
    EXPECT_EQ(find(found, "buckling")->severity, plan::Severity::note);
}

TEST(RodYield, holds_a_bent_rod_to_its_bending_and_a_threaded_one_to_its_thread) {
    const auto pulled = [](RodText rod, const std::string& newtons) {
        rod.more = R"("load": {"pull": )" + newtons + "}";
        return judged(rod);
    };
    // 250 MPa of 8 mm stock are 12.57 kN; with 1.5 to spare 8.38 kN.
    const RodText plain{.path = R"("length": 300)", .ends = "[{}, {}]"};
    EXPECT_EQ(find(pulled(plain, "8370"), "rod-yield"), nullptr);
    EXPECT_NE(find(pulled(plain, "8390"), "rod-yield"), nullptr);
    EXPECT_EQ(find(pulled(plain, "12600"), "rod-yield")->severity, plan::Severity::stop);
    const RodText threaded{.path = R"("length": 300)", .ends = R"([{"thread": "M8", "length": 20}, {}])"};
    EXPECT_NE(find(pulled(threaded, "8370"), "rod-yield"), nullptr);
    EXPECT_NE(find(pulled(bent_by("24"), "500"), "rod-yield"), nullptr);
}

TEST(RodMeetsItself, is_a_stop_that_nothing_lifts) {
    const auto loop = [](const std::string& rise) {
        return judged({.path = R"("path": [[-60,0,0], [120,0,0], [120,120,0], [0,120,)" + rise +
                               R"(], [0,-60,)" + rise + R"(]], "bend_radius": 24)",
                       .ends = "[{}, {}]"});
    };
    ASSERT_NE(find(loop("6"), "rod-meets-itself"), nullptr);
    EXPECT_TRUE(find(loop("6"), "rod-meets-itself")->final);
    EXPECT_EQ(find(loop("9"), "rod-meets-itself"), nullptr);
}

TEST(RodRules, can_be_overridden_and_say_so) {
    RodText rod = bent_by("19");
    rod.more = R"("rules": {"bend-radius": {"warn": 1.5}})";
    const auto findings = judged(rod);
    EXPECT_EQ(find(findings, "bend-radius"), nullptr);
    EXPECT_NE(find(findings, "override"), nullptr);
}

}  // namespace
}  // namespace fitup::rules
