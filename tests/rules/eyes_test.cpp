// The eyes of cranks: a file with the mistake gets the finding, its twin without it does not.
#include <gtest/gtest.h>

#include "parts/cranks.hpp"
#include "parts/kinds.hpp"
#include "rules/rules.hpp"

namespace fitup::rules {
namespace {

using parts::testing::CrankText;

plan::Findings judged(const CrankText& crank) {
    const parts::Planned planned = parts::plan_file(parts::testing::crank_text(crank), "c.json");
    if (!planned.plan) throw std::invalid_argument(parameters::to_text(planned.faults.front()));
    return judge(*planned.plan);
}

const plan::Finding* find(const plan::Findings& findings, const std::string& rule) {
    for (const plan::Finding& finding : findings) {
        if (finding.rule == rule) return &finding;
    }
    return nullptr;
}

CrankText with_eye(const std::string& eye) {
    return {.arms = R"([{"name": "a", "length": 60, "angle": 0, "eye": )" + eye + "}]"};
}

TEST(EyeWall, a_thin_eye_warns_a_thinner_one_stops_and_a_fair_one_passes) {
    const auto thin = judged(with_eye(R"({"bore": 10, "diameter": 16})"));
    ASSERT_NE(find(thin, "eye-wall"), nullptr);
    EXPECT_EQ(find(thin, "eye-wall")->severity, plan::Severity::warn);
    EXPECT_EQ(find(thin, "eye-wall")->where, "a");
    EXPECT_DOUBLE_EQ(*find(thin, "eye-wall")->value, 0.3);
    EXPECT_EQ(find(judged(with_eye(R"({"bore": 14, "diameter": 17})")), "eye-wall")->severity,
              plan::Severity::stop);
    EXPECT_EQ(find(judged(with_eye(R"({"bore": 10, "diameter": 18})")), "eye-wall"), nullptr)
        << "0.4 d is the limit and passes";
    EXPECT_NE(find(judged(with_eye(R"({"thread": "M10", "diameter": 17})")), "eye-wall"), nullptr)
        << "of a thread the nominal diameter counts";
}

TEST(EyeWall, the_hub_is_judged_too) {
    const auto findings = judged({.pivot = R"({"bore": 20, "hub_diameter": 30})"});
    ASSERT_NE(find(findings, "eye-wall"), nullptr);
    EXPECT_EQ(find(findings, "eye-wall")->where, "pivot");
}

TEST(EyesMerge, arms_too_close_in_angle_stop) {
    const auto arms = [](int degrees) {
        return CrankText{.arms =
                             R"([{"name": "a", "length": 60, "angle": 0, "eye": {"bore": 6, "diameter": 16}},
                                     {"name": "b", "length": 60, "angle": )" +
                             std::to_string(degrees) + R"(, "eye": {"bore": 6, "diameter": 16}}])"};
    };
    // Chord 2 x 60 sin(angle / 2): 15.66 mm at 15 degrees, 17.74 at 17, 18.77 at 18.
    const auto merged = judged(arms(15));
    ASSERT_NE(find(merged, "eyes-merge"), nullptr);
    EXPECT_EQ(find(merged, "eyes-merge")->severity, plan::Severity::stop);
    EXPECT_EQ(find(merged, "eyes-merge")->where, "a, b");
    EXPECT_EQ(find(judged(arms(17)), "eyes-merge")->severity, plan::Severity::warn);
    EXPECT_EQ(find(judged(arms(18)), "eyes-merge"), nullptr);
}

TEST(ThinArm, a_long_arm_of_thin_plate_warns) {
    const auto crank = [](const char* thickness) {
        return CrankText{
            .thickness = thickness,
            .pivot = R"({"bore": 14, "hub_diameter": 30})",
            .arms = R"([{"name": "a", "length": 90, "angle": 0, "eye": {"bore": 6, "diameter": 16}}])"};
    };
    const auto thin = judged(crank("5"));
    ASSERT_NE(find(thin, "thin-arm"), nullptr);
    EXPECT_DOUBLE_EQ(*find(thin, "thin-arm")->value, 18);
    EXPECT_EQ(find(judged(crank("6")), "thin-arm"), nullptr);
}

TEST(BushFit, a_bush_that_may_be_loose_warns_and_one_that_grips_is_noted) {
    const auto pivot = [](const char* bush) {
        return CrankText{.pivot = std::string(R"({"bore": 14, "fit": "H7", "bush_fit": ")") + bush +
                                  R"(", "hub_diameter": 30})"};
    };
    // ISO 286-2, 10 to 18 mm: H7 0/+18, k6 +1/+12, p6 +18/+29.
    const auto loose = judged(pivot("k6"));
    ASSERT_NE(find(loose, "bush-fit"), nullptr);
    EXPECT_EQ(find(loose, "bush-fit")->severity, plan::Severity::warn);
    EXPECT_NEAR(*find(loose, "bush-fit")->value, -0.017, 1e-12);
    const auto grips = judged(pivot("p6"));
    ASSERT_NE(find(grips, "bush-fit"), nullptr);
    EXPECT_EQ(find(grips, "bush-fit")->severity, plan::Severity::note);
    EXPECT_EQ(find(judged({}), "bush-fit"), nullptr);
}

TEST(EyeThread, counts_what_its_bosses_add) {
    // Steel wants 1.25 d: 7.5 mm of M6. The plate alone has 6, with its boss the eye has 9.
    const auto crank = [](const char* height) {
        return CrankText{
            .thickness = "6",
            .pivot = R"({"bore": 14, "hub_diameter": 30})",
            .arms = std::string(R"([{"name": "a", "length": 50, "angle": 0, "eye": {"thread": "M6", )") +
                    R"("diameter": 16, "height": )" + height + "}}]"};
    };
    const auto thin = judged(crank("6"));
    ASSERT_NE(find(thin, "thread-engagement"), nullptr);
    EXPECT_DOUBLE_EQ(*find(thin, "thread-engagement")->value, 1.0);
    EXPECT_EQ(find(judged(crank("9")), "thread-engagement"), nullptr);
}

TEST(Lightening, too_near_a_bore_is_a_web_that_is_too_thin) {
    const auto arm = [](int at) {
        return CrankText{.arms =
                             R"([{"name": "a", "length": 70, "angle": 0, "eye": {"bore": 8, "diameter": 20},
                                      "lightening": {"diameter": 10, "at": )" +
                             std::to_string(at) + "}}]"};
    };
    const auto near = judged(arm(60));
    ASSERT_NE(find(near, "web"), nullptr);
    EXPECT_NE(find(near, "web")->where.find("a-lightening"), std::string::npos);
    EXPECT_EQ(find(judged(arm(40)), "web"), nullptr);
}

}  // namespace
}  // namespace fitup::rules
