#include "parts/bellcrank.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "cranks.hpp"
#include "plan/prism_sum.hpp"
#include "plan/skin.hpp"
#include "plates.hpp"

namespace fitup::parts {
namespace {

using namespace testing;

using Messages = std::vector<std::string>;

Messages messages(const CrankText& crank) {
    Messages texts;
    for (const auto& fault : plan_file(crank_text(crank), "c.json").faults) texts.push_back(fault.message);
    return texts;
}

const plan::WorkItem& item(const plan::Work& work, const std::string& key) {
    for (const plan::WorkItem& candidate : work) {
        if (candidate.key == key) return candidate;
    }
    throw std::out_of_range(key);
}

TEST(Bellcrank, holes_and_bosses_stand_where_the_arms_say) {
    const plan::Plan plan = plan_of(crank_text({.more = R"("rig_pin": {"at": [20, 3], "diameter": 5})"}));
    ASSERT_EQ(plan.holes.size(), 4u);
    EXPECT_EQ(plan.holes[0].id, "pivot");
    EXPECT_EQ(plan.holes[1].id, "rod");
    EXPECT_NEAR(plan.holes[1].at_mm.x_mm, 64, 1e-12);
    EXPECT_EQ(plan.holes[2].id, "selector");
    EXPECT_NEAR(plan.holes[2].at_mm.y_mm, -30, 1e-12);
    EXPECT_NEAR(plan.holes[2].at_mm.x_mm, 0, 1e-12) << "an angle of -90 degrees is exact";
    EXPECT_EQ(plan.holes[3].id, "rig-pin");
    ASSERT_EQ(plan.raised.size(), 3u);
    EXPECT_EQ(plan.raised[0].id, "hub-boss-A");
    EXPECT_DOUBLE_EQ(plan.raised[0].height_mm, 6);
    EXPECT_EQ(plan.raised[1].id, "hub-boss-B");
    EXPECT_DOUBLE_EQ(plan.raised[1].height_mm, 6);
    EXPECT_EQ(plan.raised[2].id, "selector-boss-B");
    EXPECT_DOUBLE_EQ(plan.raised[2].height_mm, 2);
}

TEST(Bellcrank, extra_holes_are_like_the_eye_or_have_their_own_bore) {
    const plan::Plan plan = plan_of(crank_text(
        {.arms = R"([{"name": "a", "length": 80, "angle": 90, "eye": {"thread": "M6", "diameter": 18},
                 "extra_holes": [60, {"at": 50, "bore": 4}], "lightening": {"at": 30, "diameter": 8}}])"}));
    ASSERT_EQ(plan.holes.size(), 5u);
    EXPECT_EQ(plan.holes[2].id, "a-extra-1");
    EXPECT_EQ(plan.holes[2].kind, plan::HoleKind::tapped);
    EXPECT_NEAR(plan.holes[2].at_mm.y_mm, 60, 1e-12);
    EXPECT_EQ(plan.holes[3].kind, plan::HoleKind::drilled);
    EXPECT_EQ(plan.holes[3].diameter_mm, 4);
    EXPECT_EQ(plan.holes[4].id, "a-lightening");
}

// One arm in closed form: belt of hub and eye, bosses, holes; polar moments by the parallel axis.
TEST(Bellcrank, volume_of_one_arm_is_the_closed_form) {
    const plan::Plan plan = plan_of(crank_text(
        {.arms =
             R"([{"name": "a", "length": 60, "angle": 17, "eye": {"bore": 6, "diameter": 16, "height": 12}}])"}));
    const double beta = std::acos(7.0 / 60.0);
    const double belt =
        23.0 * std::sqrt(60.0 * 60.0 - 49.0) + 225.0 * (std::numbers::pi - beta) + 64.0 * beta;
    const double disc = std::numbers::pi;
    const double volume =
        belt * 8 + disc * (225 - 49) * 12 - disc * 49 * 8 + disc * (64 - 9) * 4 - disc * 9 * 8;
    const auto prisms = plan::prism_sum(plan);
    ASSERT_TRUE(prisms);
    EXPECT_NEAR(plan::volume_mm3(*prisms), volume, 1e-9 * volume);
    const auto skin = plan::skin(plan);
    ASSERT_TRUE(skin.volume_mm3);
    EXPECT_NEAR(*skin.volume_mm3, volume, 1e-9 * volume);
}

TEST(Bellcrank, work_tells_ratio_inertia_and_bearing_area) {
    const plan::Plan plan = plan_of(crank_text({}));
    const plan::Work work = bellcrank_work(plan);
    EXPECT_DOUBLE_EQ(std::get<double>(item(work, "ratio").value), 64.0 / 30.0);
    EXPECT_DOUBLE_EQ(std::get<double>(item(work, "pivot_bearing_area_mm2").value), 14.0 * 20.0);
    EXPECT_GT(std::get<double>(item(work, "inertia_kg_mm2").value), 0.0);
    EXPECT_EQ(std::get<std::vector<plan::Work>>(item(work, "arms").value).size(), 2u);
}

TEST(Bellcrank, a_slotted_eye_has_its_width_round_both_ends) {
    const plan::Plan plan = plan_of(crank_text(
        {.arms =
             R"([{"name": "a", "length": 60, "angle": 90, "eye": {"slot": {"length": 20, "width": 6}, "diameter": 16}}])"}));
    EXPECT_NEAR(plan.body.outline.box().most.y_mm, 60 + 7 + 8, 1e-9);
    EXPECT_DOUBLE_EQ(plan.holes[1].slot_direction.degrees(), 90);
    const plan::Work rows = std::get<std::vector<plan::Work>>(item(bellcrank_work(plan), "arms").value)[0];
    EXPECT_DOUBLE_EQ(std::get<double>(item(rows, "adjustment_mm").value), 14);
}

TEST(Bellcrank, shapes_that_do_not_exist_are_told_at_their_key) {
    EXPECT_EQ(messages({.pivot = R"({"bore": 30, "hub_diameter": 30})"}),
              (Messages{"pivot.bore: found 30, wanted less than the hub's diameter, 30 mm"}));
    EXPECT_EQ(
        messages({.pivot = R"({"bore": 14, "hub_diameter": 30, "hub_from": 2})"}),
        (Messages{"pivot.hub_from: found 2, wanted 0 or less: it holds the plate, which starts at z = 0"}));
    EXPECT_EQ(
        messages({.pivot = R"({"bore": 14, "hub_diameter": 30, "hub_from": -6, "hub_height": 12})"}),
        (Messages{"pivot.hub_height: found 12, wanted at least 14 mm, which reaches through the plate"}));
    EXPECT_EQ(
        messages(
            {.arms = R"([{"name": "a", "length": 15, "angle": 0, "eye": {"bore": 6, "diameter": 16}}])"}),
        (Messages{"arms[0].length: found 15, wanted more than 18 mm, so that the eye's hole lies outside the "
                  "hub"}));
    EXPECT_EQ(
        messages(
            {.arms = R"([{"name": "a", "length": 50, "angle": 0, "eye": {"bore": 16, "diameter": 16}}])"}),
        (Messages{"arms[0].eye.bore: found 16, wanted less than the eye's diameter, 16 mm"}));
    EXPECT_EQ(
        messages(
            {.arms =
                 R"([{"name": "a", "length": 50, "angle": 0, "eye": {"slot": {"length": 90, "width": 6}, "diameter": 16}}])"}),
        (Messages{
            "arms[0].eye.slot.length: found 90, wanted less than 86 mm: the slot is longer than its arm"}));
    EXPECT_EQ(
        messages({.arms = R"([{"name": "a", "length": 50, "angle": 0, "eye": {"bore": 6, "diameter": 16}},
                                    {"name": "a", "length": 50, "angle": 90, "eye": {"bore": 6, "diameter": 16}}])"}),
        (Messages{"arms[1].name: found \"a\", wanted a name that nothing else of the crank has"}));
    EXPECT_EQ(
        messages({.arms = R"([{"name": "a", "length": 0, "angle": 0, "eye": {"bore": 6, "diameter": 16}}])"}),
        (Messages{"arms[0].length: found 0, wanted a length over 0 mm and at most 20000 mm (12, \"12 mm\", "
                  "\"1/2 in\")"}));
}

TEST(Bellcrank, arms_along_one_another_make_no_outline) {
    EXPECT_EQ(
        messages({.arms = R"([{"name": "a", "length": 50, "angle": 0, "eye": {"bore": 6, "diameter": 16}},
                                    {"name": "b", "length": 50, "angle": 0, "eye": {"bore": 6, "diameter": 16}}])"}),
        (Messages{"arms: the arms make no outline: two of them lie along one another, an eye holds the hub, "
                  "or web.inner_radius is larger than what lies between them"}));
}

TEST(Bellcrank, inches_are_the_same_crank) {
    const plan::Plan mm = plan_of(crank_text({}));
    const plan::Plan inch = plan_of(crank_text(
        {.units = "in",
         .thickness = R"("8 mm")",
         .pivot = R"({"bore": "14 mm", "hub_diameter": "30 mm", "hub_height": "20 mm", "hub_from": "-6 mm"})",
         .arms =
             R"([{"name": "rod", "length": "64 mm", "angle": 0, "eye": {"bore": "6.4 mm", "diameter": "18 mm"}},)"
             R"( {"name": "selector", "length": "30 mm", "angle": -90, "eye": {"thread": "M6", "diameter": "16 mm", "height": "10 mm"}}])"}));
    EXPECT_EQ(plan::volume_mm3(*plan::prism_sum(inch)), plan::volume_mm3(*plan::prism_sum(mm)));
}

TEST(Bellcrank, the_starter_is_sound) {
    EXPECT_TRUE(plan_file(find_kind("bellcrank")->starter, "s.json").faults.empty());
}

}  // namespace
}  // namespace fitup::parts
