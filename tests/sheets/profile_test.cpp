// Flat profiles: which curves lie on which side, against the plan's own numbers.
#include "sheets/profile.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "sheets/hole_plans.hpp"

namespace fitup::sheets {
namespace {

using plan::HoleKind;
using plan::Profile;
using plan::Side;

std::vector<plan::Circle> circles(const Profile& profile, const std::string& layer) {
    std::vector<plan::Circle> found;
    for (const plan::ProfileCurve& curve : profile.curves) {
        if (curve.layer == layer && curve.curve.circle()) found.push_back(*curve.curve.circle());
    }
    return found;
}

plan::Plan worked_plate() {
    plan::Plan made =
        plate({hole("bore", HoleKind::bore, {0, 0}, 150), hole("h-1", HoleKind::clearance, {60, 70}, 11),
               tapped("g-1", {-80, 20}, 22, 28)});
    made.body.outline = plan::Contour(plan::Circle{{0, 0}, 215});
    made.holes[1].recess = plan::Recess{Side::A, 27, 9, {}};
    return made;
}

TEST(Profiles, each_side_has_its_own_operations_and_what_comes_through) {
    const auto all = profiles(worked_plate());
    ASSERT_EQ(all.size(), 2u);
    const Profile &b = all[0], &a = all[1];
    EXPECT_EQ(b.suffix, "-B");
    EXPECT_EQ(a.suffix, "-A");
    ASSERT_EQ(circles(b, "OUTLINE").size(), 1u);
    EXPECT_EQ(circles(b, "OUTLINE")[0].radius_mm, 215.0);
    ASSERT_EQ(circles(b, "BORE").size(), 1u);
    ASSERT_EQ(circles(b, "TAP_DRILL").size(), 1u);
    EXPECT_EQ(circles(b, "TAP_DRILL")[0].radius_mm, 4.25);
    EXPECT_EQ(circles(b, "TAP")[0].radius_mm, 5.0);
    EXPECT_TRUE(circles(b, "COUNTERBORE").empty());
    // Flipped about Y: X changes sign. The blind hole does not show.
    ASSERT_EQ(circles(a, "COUNTERBORE").size(), 1u);
    EXPECT_EQ(circles(a, "COUNTERBORE")[0].centre, (plan::Point{-60, 70}));
    EXPECT_EQ(circles(a, "COUNTERBORE")[0].radius_mm, 13.5);
    const auto through = circles(a, "THROUGH");
    ASSERT_EQ(through.size(), 2u);
    EXPECT_TRUE(std::any_of(through.begin(), through.end(), [](const plan::Circle& c) {
        return c.radius_mm == 5.5 && c.centre.x_mm == -60;
    }));
    EXPECT_TRUE(circles(a, "TAP_DRILL").empty());
}

TEST(Profiles, a_side_without_work_is_left_out) {
    plan::Plan plain = plate({hole("bore", HoleKind::bore, {0, 0}, 150)});
    plain.body.outline = plan::Contour(plan::Circle{{0, 0}, 215});
    ASSERT_EQ(profiles(plain).size(), 1u);
    EXPECT_EQ(profiles(plain)[0].suffix, "-B");
}

TEST(Profiles, a_slot_is_an_outline_with_round_ends) {
    plan::Plan made =
        plate({hole("bore", HoleKind::bore, {0, 0}, 150), hole("d-1", HoleKind::dowel, {100, 0}, 12)});
    made.body.outline = plan::Contour(plan::Circle{{0, 0}, 215});
    made.holes[1].slot_length_mm = 20;
    made.holes[1].slot_direction = Angle::from_degrees(90);
    const Profile profile = profiles(made)[0];
    const auto slot = std::find_if(profile.curves.begin(), profile.curves.end(),
                                   [](const auto& curve) { return curve.layer == "MILL_SLOT"; });
    ASSERT_NE(slot, profile.curves.end());
    const plan::Box2 box = slot->curve.box();
    EXPECT_NEAR(box.most.y_mm - box.least.y_mm, 20.0, 1e-12);
    EXPECT_NEAR(box.most.x_mm - box.least.x_mm, 12.0, 1e-12);
}

TEST(Profiles, a_rod_has_none) {
    plan::Plan rod;
    rod.rod.emplace();
    EXPECT_TRUE(profiles(rod).empty());
}

}  // namespace
}  // namespace fitup::sheets
