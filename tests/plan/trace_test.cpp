// Boundaries of what several contours cover, where these lie on one another for a stretch; areas by hand.
#include "plan/trace.hpp"

#include <gtest/gtest.h>

#include <algorithm>

namespace fitup::plan {
namespace {

std::optional<std::vector<std::vector<Stroke>>> traced_union(const std::vector<Contour>& contours,
                                                             SharedStretches shared) {
    std::vector<Stroke> raw;
    for (const Contour& contour : contours) {
        for (const Stroke& stroke : strokes_of(contour)) raw.push_back(stroke);
    }
    const auto is_outside = [&](Point point) {
        return std::none_of(contours.begin(), contours.end(), [point](const Contour& contour) {
            return contour.contains(point) && contour.distance_to_mm(point) > 1e-6;
        });
    };
    return trace(raw, is_outside, shared);
}

TEST(Trace, sides_on_one_line_count_once_where_they_run_the_same_way) {
    // An angle: 40 x 10 and 10 x 30 from one corner.
    const std::vector<Contour> angle{rectangle({20, 5}, 40, 10, 0.0, {}),
                                     rectangle({5, 15}, 10, 30, 0.0, {})};
    const auto loops = traced_union(angle, SharedStretches::joined);
    ASSERT_TRUE(loops);
    ASSERT_EQ(loops->size(), 1u);
    EXPECT_NEAR(contour_of(loops->front()).area_mm2(), 600.0, 1e-9);
    EXPECT_EQ(contour_of(loops->front()).edges().size(), 6u);
    EXPECT_FALSE(traced_union(angle, SharedStretches::none)) << "told apart only where that is asked for";
}

TEST(Trace, sides_that_run_against_each_other_bound_nothing) {
    // A small rectangle on the side of a large one, along 20 of its 30 mm.
    const std::vector<Contour> beside{rectangle({-5, 0}, 10, 30, 0.0, {}), rectangle({4, 2}, 8, 20, 0.0, {})};
    const auto loops = traced_union(beside, SharedStretches::joined);
    ASSERT_TRUE(loops);
    ASSERT_EQ(loops->size(), 1u);
    EXPECT_NEAR(contour_of(loops->front()).area_mm2(), 300.0 + 160.0, 1e-9);
}

TEST(Trace, arcs_of_one_circle_count_once) {
    // A round end and a whole circle on it: the slot alone.
    const std::vector<Contour> both{slot({0, 0}, {20, 0}, 10.0), Contour(Circle{{20, 0}, 5.0})};
    const auto loops = traced_union(both, SharedStretches::joined);
    ASSERT_TRUE(loops);
    ASSERT_EQ(loops->size(), 1u);
    EXPECT_NEAR(contour_of(loops->front()).area_mm2(), both.front().area_mm2(), 1e-9);
}

}  // namespace
}  // namespace fitup::plan
