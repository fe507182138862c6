// The bends of offset arms: a file with the mistake gets the finding, its twin without it does not.
#include <gtest/gtest.h>

#include "parts/arms.hpp"
#include "parts/kinds.hpp"
#include "rules/rules.hpp"

namespace fitup::rules {
namespace {

using parts::testing::ArmText;

plan::Findings judged(const ArmText& arm) {
    const parts::Planned planned = parts::plan_file(parts::testing::arm_text(arm), "a.json");
    if (!planned.plan) throw std::invalid_argument(parameters::to_text(planned.faults.front()));
    return judge(*planned.plan);
}

const plan::Finding* find(const plan::Findings& findings, const std::string& rule,
                          const std::string& where = "") {
    for (const plan::Finding& finding : findings) {
        if (finding.rule == rule && (where.empty() || finding.where == where)) return &finding;
    }
    return nullptr;
}

ArmText with_joggle(const std::string& figures, const std::string& material = "mild steel") {
    return {.material = material, .joggle = "{" + figures + "}"};
}

const std::string clamp_14 =
    R"({"bore": 12, "boss": {"diameter": 26, "height": 14}, "clamp": {"slit": 2, "bolt": "M6"}})";

TEST(OffsetArmRules, sound_arms_are_silent) {
    EXPECT_TRUE(judged({}).empty());
    EXPECT_TRUE(judged({.pivot = clamp_14}).empty()) << judged({.pivot = clamp_14}).front().message;
    EXPECT_TRUE(judged({.joggle = ""}).empty());
    EXPECT_TRUE(judged(with_joggle(R"("rise": -9, "start": 27, "run": 24, "inside_radius": 6)")).empty());
}

// A36 to 6.35 mm 1 t, to 12.7 mm 1.5 t: trade guide after AISI.
TEST(BendRadius, tighter_than_the_material_likes_warns) {
    const auto tight = judged(with_joggle(R"("rise": 9, "start": 27, "run": 24, "inside_radius": 5)"));
    ASSERT_NE(find(tight, "bend-radius"), nullptr);
    EXPECT_EQ(find(tight, "bend-radius")->severity, plan::Severity::warn);
    EXPECT_NEAR(*find(tight, "bend-radius")->value, 5.0 / 6.0, 1e-12);
    EXPECT_EQ(*find(tight, "bend-radius")->limit, 1.0);
    EXPECT_EQ(
        find(judged(with_joggle(R"("rise": 9, "start": 27, "run": 24, "inside_radius": 6)")), "bend-radius"),
        nullptr);
    ArmText thick = with_joggle(R"("rise": 9, "start": 30, "run": 40, "inside_radius": 10)");
    thick.strip = R"({"width": 22, "thickness": 8})";
    thick.length = "120";
    EXPECT_EQ(*find(judged(thick), "bend-radius")->limit, 1.5);
}

// 6061-T6 to 6.35 mm 3.5 t: published makers' table.
TEST(BendRadius, hard_aluminium_wants_much_more_than_steel) {
    const ArmText aluminium =
        with_joggle(R"("rise": 9, "start": 27, "run": 24, "inside_radius": 6)", "aluminium 6061-T6");
    ASSERT_NE(find(judged(aluminium), "bend-radius"), nullptr);
    EXPECT_EQ(*find(judged(aluminium), "bend-radius")->limit, 3.5);
    ArmText wide =
        with_joggle(R"("rise": 9, "start": 40, "run": 40, "inside_radius": 21)", "aluminium 6061-T6");
    wide.length = "140";
    EXPECT_EQ(find(judged(wide), "bend-radius"), nullptr);
}

TEST(BendRadius, cast_iron_does_not_bend) {
    const auto iron =
        judged(with_joggle(R"("rise": 9, "start": 27, "run": 24, "inside_radius": 6)", "cast iron grey"));
    ASSERT_NE(find(iron, "bend-radius"), nullptr);
    EXPECT_EQ(find(iron, "bend-radius")->severity, plan::Severity::stop);
}

// Leg 2 t + r = 18 with t 6, r 6; the leg counts from the strip's round end, half its width behind the axis.
TEST(BendLeg, too_short_to_hold_warns) {
    ArmText arm = with_joggle(R"("rise": 9, "start": 6.5, "run": 24, "inside_radius": 6)");
    arm.pivot = R"({"bore": 10})";
    ASSERT_NE(find(judged(arm), "bend-leg", "bend-1"), nullptr);
    EXPECT_DOUBLE_EQ(*find(judged(arm), "bend-leg", "bend-1")->value, 17.5);
    EXPECT_DOUBLE_EQ(*find(judged(arm), "bend-leg", "bend-1")->limit, 18.0);
    arm.joggle = R"({"rise": 9, "start": 7, "run": 24, "inside_radius": 6})";
    EXPECT_EQ(find(judged(arm), "bend-leg"), nullptr);
}

TEST(BendLeg, too_short_between_the_bends_is_only_noted) {
    const auto close = judged(with_joggle(R"("rise": 9, "start": 27, "run": 20, "inside_radius": 6)"));
    ASSERT_NE(find(close, "bend-leg", "joggle"), nullptr);
    EXPECT_EQ(find(close, "bend-leg", "joggle")->severity, plan::Severity::note);
}

// Hole edge to bend 2.5 t + r = 21 with t 6, r 6: the pivot's edge at 6, the bend at 27.
TEST(BendHole, too_near_a_bend_warns) {
    const auto near = judged(with_joggle(R"("rise": 9, "start": 26.9, "run": 24, "inside_radius": 6)"));
    ASSERT_NE(find(near, "bend-hole", "pivot"), nullptr);
    EXPECT_EQ(find(near, "bend-hole")->severity, plan::Severity::warn);
    EXPECT_NEAR(*find(near, "bend-hole")->value, 20.9, 1e-12);
    EXPECT_EQ(*find(near, "bend-hole")->limit, 21.0);
    EXPECT_EQ(find(judged({}), "bend-hole"), nullptr) << "21 is enough";
    ArmText eye;
    eye.length = "80";
    EXPECT_EQ(find(judged(eye), "bend-hole", "eye")->severity, plan::Severity::warn) << "the slot's near end";
}

TEST(InBend, what_reaches_into_a_bend_is_a_final_stop) {
    ArmText eye;
    eye.length = "59";
    const auto found = judged(eye);
    ASSERT_NE(find(found, "in-bend", "eye"), nullptr);
    EXPECT_TRUE(find(found, "in-bend")->final);
    ArmText boss;
    boss.pivot = R"({"bore": 12, "boss": {"diameter": 56, "height": 14}})";
    boss.length = "100";
    EXPECT_NE(find(judged(boss), "in-bend", "boss"), nullptr);
    EXPECT_EQ(find(judged({}), "in-bend"), nullptr);
}

TEST(InBend, a_flat_boss_wider_than_the_strip_is_told_of_as_outline) {
    ArmText boss;
    boss.pivot = R"({"bore": 12, "boss": {"diameter": 60, "height": 6}})";
    boss.length = "100";
    EXPECT_NE(find(judged(boss), "in-bend", "outline"), nullptr);
}

TEST(JoggleStress, a_strip_too_weak_for_its_rod_stops) {
    const auto loaded = [](const char* force) {
        return judged({.more = std::string(R"("load": {"rod_force": )") + force + "}"});
    };
    // 28.0 MPa at 200 N (see the plan's test), A36 yields at 250: factor 3 is reached at 595 N, 1 at 1786 N.
    EXPECT_EQ(find(loaded("590"), "joggle-stress"), nullptr);
    EXPECT_EQ(find(loaded("610"), "joggle-stress")->severity, plan::Severity::warn);
    EXPECT_EQ(find(loaded("1850"), "joggle-stress")->severity, plan::Severity::stop);
    EXPECT_EQ(find(judged({}), "joggle-stress"), nullptr);
}

TEST(EyeWall, what_the_slot_leaves_in_a_narrow_strip_is_judged) {
    ArmText wide;
    wide.eye = R"({"slot": {"length": 24, "width": 13}})";
    ASSERT_NE(find(judged(wide), "eye-wall", "eye"), nullptr);
    EXPECT_NEAR(*find(judged(wide), "eye-wall", "eye")->value, 4.5 / 13.0, 1e-12);
}

TEST(ClampLug, a_bolt_that_fills_its_lugs_warns) {
    const std::string low =
        R"({"bore": 12, "boss": {"diameter": 26, "height": 10}, "clamp": {"slit": 2, "bolt": "M6"}})";
    ASSERT_NE(find(judged({.pivot = low}), "clamp-lug"), nullptr);
    EXPECT_NEAR(*find(judged({.pivot = low}), "clamp-lug")->value, 1.7, 1e-12);
    EXPECT_EQ(find(judged({.pivot = clamp_14}), "clamp-lug"), nullptr);
}

}  // namespace
}  // namespace fitup::rules
