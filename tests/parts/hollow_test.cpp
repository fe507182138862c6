#include <cmath>
#include <numbers>

#include "parts/plates.hpp"

namespace fitup::parts {
namespace {

using namespace testing;
using std::numbers::pi;

const std::string hollow =
    R"("hollow": {"side": "A", "rim": 55, "depth": 22, "corner_radius": 8, "around_holes": 12})";

plan::Pocket hollow_of(const plan::Plan& plan) {
    for (const plan::Pocket& pocket : plan.pockets) {
        if (pocket.kind == plan::PocketKind::hollow) return pocket;
    }
    ADD_FAILURE() << "no hollow";
    return {};
}

double area_mm2(const plan::Pocket& pocket) {
    double sum_mm2 = 0.0;
    for (const plan::Area& area : pocket.areas) sum_mm2 += plan::area_mm2(area);
    return sum_mm2;
}

std::string hole_at(double radius_mm, const std::string& hole) {
    return ", " + pattern(R"("points": [[)" + std::to_string(radius_mm) + ", 0]]", hole);
}

/// What the holes' bosses take from the empty hollow, a disc of 320.
double taken_mm2(const std::string& hole, double radius_mm = 100.0) {
    const double whole_mm2 = pi * 160.0 * 160.0;
    return whole_mm2 - area_mm2(hollow_of(plan_with(hollow + hole_at(radius_mm, hole))));
}

double disc_mm2(double radius_mm) { return pi * radius_mm * radius_mm; }

/// Areas of some 80,000 mm2 are summed from arcs.
constexpr double area_error_mm2 = 1e-6;

TEST(Hollow, without_holes_is_the_outline_less_the_rim) {
    const auto pocket = hollow_of(plan_with(hollow));
    EXPECT_EQ(pocket.id, "hollow");
    EXPECT_EQ(pocket.side, plan::Side::A);
    EXPECT_EQ(pocket.depth_mm, 22.0);
    EXPECT_EQ(pocket.corner_radius_mm, 8.0);
    EXPECT_NEAR(area_mm2(pocket), disc_mm2(160.0), area_error_mm2);
}

TEST(Hollow, is_open_to_the_bore_unless_metal_is_left_round_it) {
    EXPECT_NEAR(area_mm2(hollow_of(plan_with(hollow + R"(, "bore": {"diameter": 150})"))), disc_mm2(160.0),
                area_error_mm2);
    const auto ringed =
        plan_with(R"("bore": {"diameter": 150}, "hollow": {"side": "A", "rim": 55, "depth": 22,
                                  "corner_radius": 8, "around_holes": 12, "around_bore": 10})");
    EXPECT_NEAR(area_mm2(hollow_of(ringed)), disc_mm2(160.0) - disc_mm2(85.0), area_error_mm2);
}

TEST(Hollow, keeps_a_boss_round_a_through_hole) {
    EXPECT_NEAR(taken_mm2(R"({"kind": "drilled", "diameter": 10})"), disc_mm2(5.0 + 12.0), area_error_mm2);
}

TEST(Hollow, a_boss_is_as_wide_as_its_hole_within_reach) {
    // The recess on B is 10 deep, at 30 to 40 from A: within 22 + 12 of it.
    EXPECT_NEAR(taken_mm2(R"({"kind": "drilled", "diameter": 10, "recess": {"diameter": 26, "depth": 10}})"),
                disc_mm2(13.0 + 12.0), area_error_mm2);
    // 5 deep, from 35 on: out of reach.
    EXPECT_NEAR(taken_mm2(R"({"kind": "drilled", "diameter": 10, "recess": {"diameter": 26, "depth": 5}})"),
                disc_mm2(5.0 + 12.0), area_error_mm2);
    EXPECT_NEAR(
        taken_mm2(
            R"({"kind": "drilled", "diameter": 10, "recess": {"diameter": 26, "depth": 5, "side": "A"}})"),
        disc_mm2(13.0 + 12.0), area_error_mm2);
}

TEST(Hollow, a_blind_hole_that_stays_far_above_keeps_no_boss) {
    // From B, 6 deep and flat: 34 - 22 = 12 of metal stay.
    EXPECT_NEAR(taken_mm2(R"({"kind": "drilled", "diameter": 10, "depth": 6, "point": "flat"})"), 0.0,
                area_error_mm2);
    EXPECT_NEAR(taken_mm2(R"({"kind": "drilled", "diameter": 10, "depth": 6.5, "point": "flat"})"),
                disc_mm2(17.0), area_error_mm2);
}

TEST(Hollow, a_drill_point_counts_and_is_as_wide_as_it_is_within_reach) {
    // From B, 5 deep: the full diameter ends at 35 from A, the point 5 / tan 59 deg = 3.0043 deeper,
    // at 31.9957. Within 34 it reaches 34 - 31.9957 = 2.0043 up the cone, where its radius is 2.0043 tan 59
    // deg.
    const double height_mm = 5.0 / std::tan(59.0 * pi / 180.0);
    const double radius_mm = (34.0 - (35.0 - height_mm)) * std::tan(59.0 * pi / 180.0);
    EXPECT_NEAR(taken_mm2(R"({"kind": "drilled", "diameter": 10, "depth": 5})"), disc_mm2(radius_mm + 12.0),
                area_error_mm2);
}

TEST(Hollow, distance_is_taken_in_space) {
    // Beside the pocket by 8 and above it by 9: hypot = 12.04 of metal, though only 8 seen from above.
    const std::string high = R"({"kind": "drilled", "diameter": 10, "depth": 9, "point": "flat"})";
    EXPECT_NEAR(taken_mm2(high, 160.0 + 5.0 + 8.0), 0.0, area_error_mm2);
    const std::string low = R"({"kind": "drilled", "diameter": 10, "depth": 9.2, "point": "flat"})";
    EXPECT_GT(taken_mm2(low, 160.0 + 5.0 + 8.0), 1.0) << "hypot(8, 8.8) is 11.89";
}

TEST(Hollow, from_b_is_the_mirror_image_of_one_from_a) {
    const auto from = [](const std::string& side, const std::string& other) {
        return area_mm2(hollow_of(plan_with(
            R"("hollow": {"side": ")" + side +
            R"(", "rim": 55, "depth": 22, "corner_radius": 8, "around_holes": 12}, )" +
            pattern(R"("circle": {"diameter": 250, "count": 5})",
                    R"({"kind": "tapped", "thread": "M10", "depth": 4, "drill_depth": 5, "from": ")" + other +
                        R"("})"))));
    };
    EXPECT_NEAR(from("A", "B"), from("B", "A"), area_error_mm2);
    EXPECT_NEAR(from("A", "A"), from("B", "B"), area_error_mm2);
    EXPECT_GT(std::abs(from("A", "A") - from("A", "B")), 1.0);
}

TEST(Hollow, holes_outside_the_rim_do_not_matter) {
    EXPECT_NEAR(taken_mm2(R"({"kind": "drilled", "diameter": 10})", 190.5), 0.0, area_error_mm2);
}

TEST(Hollow, around_holes_of_nothing_leaves_no_boss) {
    const auto plan = plan_with(
        R"("hollow": {"side": "A", "rim": 55, "depth": 22, "corner_radius": 8, "around_holes": 0})" +
        hole_at(100.0, R"({"kind": "drilled", "diameter": 10})"));
    EXPECT_NEAR(area_mm2(hollow_of(plan)), disc_mm2(160.0), area_error_mm2);
}

TEST(Hollow, its_figures_are_kept_for_the_rules) {
    const auto plan = plan_with(hollow);
    ASSERT_TRUE(plan.hollow);
    EXPECT_EQ(plan.hollow->rim_mm, 55.0);
    EXPECT_EQ(plan.hollow->around_holes_mm, 12.0);
}

TEST(Hollow, that_finds_no_room_is_a_fault) {
    EXPECT_EQ(
        messages_with(
            R"("hollow": {"side": "A", "rim": 210, "depth": 22, "corner_radius": 8, "around_holes": 12})"),
        (Messages{"hollow: nothing is left to hollow out inside the rim and round the holes; make rim, "
                  "around_holes "
                  "or corner_radius smaller"}));
    EXPECT_EQ(
        messages_with(
            R"("hollow": {"side": "A", "rim": 50, "depth": 41, "corner_radius": 8, "around_holes": 12})"),
        (Messages{"hollow.depth: found 41, wanted less than the thickness, 40 mm"}));
}

}  // namespace
}  // namespace fitup::parts
