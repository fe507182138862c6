// Rules thread-engagement, tap-room, long-thread.
#include <gtest/gtest.h>

#include "rules/plates.hpp"

namespace fitup::rules {
namespace {

using namespace plates;
using plan::Severity;
using plan::Side;

constexpr double rounding = 1e-9;

plan::Plan one(plan::Hole hole, plan::Material material = aluminium()) {
    plan::Plan plan = with(disc(), {std::move(hole)});
    plan.material = std::move(material);
    return plan;
}

TEST(ThreadEngagement, too_little_thread_in_aluminium_is_found_and_two_diameters_pass) {
    EXPECT_EQ(find(judge(one(tapped("gearbox-1", {100.0, 0.0}, 20.0, 26.0))), "thread-engagement"), nullptr);
    const auto findings = judge(one(tapped("gearbox-1", {100.0, 0.0}, 15.0, 24.0)));
    const plan::Finding* finding = find(findings, "thread-engagement", "gearbox-1");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->severity, Severity::warn);
    EXPECT_NEAR(*finding->value, 1.5, rounding);
    EXPECT_EQ(finding->limit, 2.0);
    EXPECT_EQ(finding->unit, "d");
    EXPECT_EQ(find(judge(one(tapped("gearbox-1", {100.0, 0.0}, 9.0, 24.0))), "thread-engagement")->severity,
              Severity::stop);
}

// 1.25 d in steel: an engine maker's manual; grey iron 1.5 d: SAE J617, as summarised.
TEST(ThreadEngagement, the_material_decides) {
    EXPECT_EQ(find(judge(one(tapped("gearbox-1", {100.0, 0.0}, 12.5, 24.0), steel())), "thread-engagement"),
              nullptr);
    EXPECT_NE(find(judge(one(tapped("gearbox-1", {100.0, 0.0}, 12.4, 24.0), steel())), "thread-engagement"),
              nullptr);
    EXPECT_EQ(find(judge(one(tapped("gearbox-1", {100.0, 0.0}, 15.0, 24.0), iron())), "thread-engagement"),
              nullptr);
    EXPECT_NE(find(judge(one(tapped("gearbox-1", {100.0, 0.0}, 14.9, 24.0), iron())), "thread-engagement"),
              nullptr);
}

TEST(ThreadEngagement, what_a_recess_or_pocket_takes_away_does_not_count) {
    plan::Plan plan = one(tapped("gearbox-1", {100.0, 0.0}, 20.0, 26.0));
    plan.pockets.push_back(pocket("register-B", plan::PocketKind::register_recess, Side::B,
                                  plan::Contour(plan::Circle{{}, 150.0}), 6.0));
    const auto findings = judge(plan);
    ASSERT_NE(find(findings, "thread-engagement"), nullptr);
    EXPECT_NEAR(*find(findings, "thread-engagement")->value, 1.4, rounding);
    // A hollow from the other side that ends above the thread's end.
    plan.pockets = {
        pocket("hollow", plan::PocketKind::hollow, Side::A, plan::Contour(plan::Circle{{}, 150.0}), 22.0)};
    EXPECT_NEAR(*find(judge(plan), "thread-engagement")->value, 1.8, rounding);
    plan.pockets.clear();
    plan.holes[0].recess = plan::Recess{Side::B, 14.0, 2.0, {}};
    EXPECT_NEAR(*find(judge(plan), "thread-engagement")->value, 1.8, rounding);
    plan.holes[0].recess.reset();
    // 90 degrees, 12 mm: wider than the 10 mm thread down to 1 mm.
    plan.holes[0].countersink = plan::Countersink{Side::B, 12.0, Angle::from_degrees(90.0)};
    EXPECT_NEAR(*find(judge(plan), "thread-engagement")->value, 1.9, rounding);
}

TEST(TapRoom, three_pitches_pass_less_warns_and_under_one_stops) {
    EXPECT_EQ(find(judge(one(tapped("gearbox-1", {100.0, 0.0}, 20.0, 24.5))), "tap-room"), nullptr);
    const auto findings = judge(one(tapped("gearbox-1", {100.0, 0.0}, 20.0, 23.0)));
    const plan::Finding* finding = find(findings, "tap-room", "gearbox-1");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->severity, Severity::warn);
    EXPECT_NEAR(*finding->value, 2.0, rounding);
    EXPECT_EQ(find(judge(one(tapped("gearbox-1", {100.0, 0.0}, 20.0, 20.0))), "tap-room")->severity,
              Severity::stop);
}

TEST(TapRoom, a_deeper_drill_is_asked_for_only_where_its_point_stays_in) {
    // The plate is 40 thick, the drill's point 8.5 / 2 / tan 59 degrees high: at most 37.446 deep.
    const auto words = [](double thread_mm, double drill_mm) {
        plan::Hole hole = tapped("gearbox-1", {100.0, 0.0}, thread_mm, drill_mm);
        hole.point_angle = Angle::from_degrees(118.0);
        const auto findings = judge(one(hole));
        const plan::Finding* finding = find(findings, "tap-room");
        return finding != nullptr ? finding->message : "";
    };
    EXPECT_NE(words(32.0, 34.0).find("drill 36.5 mm"), std::string::npos) << words(32.0, 34.0);
    EXPECT_NE(words(34.0, 36.0).find("would come out on the other side: make the thread less than 32.94 mm"),
              std::string::npos)
        << words(34.0, 36.0);
}

TEST(TapRoom, a_through_hole_has_room) {
    plan::Hole through = tapped("gearbox-1", {100.0, 0.0}, 40.0, 40.0);
    through.through = true;
    EXPECT_EQ(find(judge(one(through)), "tap-room"), nullptr);
}

TEST(LongThread, over_three_diameters_warns) {
    EXPECT_EQ(find(judge(one(tapped("gearbox-1", {100.0, 0.0}, 30.0, 36.0))), "long-thread"), nullptr);
    EXPECT_NE(find(judge(one(tapped("gearbox-1", {100.0, 0.0}, 31.0, 36.0))), "long-thread"), nullptr);
}

}  // namespace
}  // namespace fitup::rules
