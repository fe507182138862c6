#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <cmath>
#include <numbers>
#include <random>

#include "plan/cuts.hpp"
#include "plan/plates.hpp"
#include "plan/property.hpp"

namespace fitup::plan {
namespace {

using namespace testing;

Cut cylinder(Point at, double radius_mm, double low_mm, double high_mm) {
    return {"c",   CutRole::hole, 0, Area{Contour(Circle{at, radius_mm}), {}}, low_mm, high_mm,
            false, false,         {}};
}

Cut cone(Point at, double radius_low_mm, double radius_high_mm, double low_mm, double high_mm) {
    Cut cut = cylinder(at, std::max(radius_low_mm, radius_high_mm), low_mm, high_mm);
    cut.cone = {radius_low_mm, radius_high_mm};
    return cut;
}

double radius_at(const Cut& cut, double z_mm) {
    if (!cut.cone) return cut.area.outer.circle()->radius_mm;
    const double share = (z_mm - cut.z_low_mm) / (cut.z_high_mm - cut.z_low_mm);
    return cut.cone->radius_low_mm + share * (cut.cone->radius_high_mm - cut.cone->radius_low_mm);
}

/// The least of a convex function on [low, high], by thirds.
template <typename Function>
double least(double low, double high, const Function& function) {
    for (int step = 0; step < 120; ++step) {
        const double a = low + (high - low) / 3;
        const double b = high - (high - low) / 3;
        (function(a) <= function(b) ? high : low) = function(a) <= function(b) ? b : a;
    }
    return function((low + high) / 2);
}

/// Second way: two discs at heights z1 and z2 lie max(0, d - r1 - r2) apart across; that is convex in both
/// heights.
double searched_gap_mm(const Cut& first, const Cut& second) {
    const double d = distance_mm(first.area.outer.circle()->centre, second.area.outer.circle()->centre);
    return least(first.z_low_mm, first.z_high_mm, [&](double z1) {
        return least(second.z_low_mm, second.z_high_mm, [&](double z2) {
            const double across = std::max(0.0, d - radius_at(first, z1) - radius_at(second, z2));
            return std::hypot(across, z1 - z2);
        });
    });
}

double span_mm(const CutGap& gap) {
    return std::hypot(gap.on_first[0] - gap.on_second[0], gap.on_first[1] - gap.on_second[1],
                      gap.on_first[2] - gap.on_second[2]);
}

bool holds(const Cut& cut, const Point3& point) {
    const double slack = 1e-9;
    if (point[2] < cut.z_low_mm - slack || point[2] > cut.z_high_mm + slack) return false;
    return distance_mm(cut.area.outer.circle()->centre, {point[0], point[1]}) <=
           radius_at(cut, point[2]) + slack;
}

TEST(CutGap, cylinders_side_by_side) {
    EXPECT_NEAR(gap(cylinder({0, 0}, 3, 0, 10), cylinder({12, 5}, 4, 5, 20)).distance_mm, 6.0, 1e-12);
}

TEST(CutGap, cylinders_one_above_the_other) {
    EXPECT_NEAR(gap(cylinder({0, 0}, 3, 0, 10), cylinder({4, 0}, 4, 12, 20)).distance_mm, 2.0, 1e-12);
}

TEST(CutGap, edge_to_edge_of_cylinders_apart_both_ways) {
    EXPECT_NEAR(gap(cylinder({0, 0}, 3, 0, 10), cylinder({10, 0}, 4, 14, 20)).distance_mm, 5.0, 1e-12);
}

TEST(CutGap, tips_of_opposite_drill_points_on_one_axis) {
    EXPECT_NEAR(gap(cone({0, 0}, 5, 0, 10, 13), cone({0, 0}, 0, 5, 15, 18)).distance_mm, 2.0, 1e-12);
}

/// Flanks of opposite cones, parallel since both are 90 degrees: the distance of two parallel lines.
TEST(CutGap, flanks_of_opposite_drill_points) {
    const CutGap found = gap(cone({0, 0}, 5, 0, 0, 5), cone({7, 0}, 0, 5, 0, 5));
    EXPECT_NEAR(found.distance_mm, 2 / std::numbers::sqrt2, 1e-12);
}

TEST(CutGap, nested_and_crossing_cuts_meet) {
    EXPECT_EQ(gap(cylinder({0, 0}, 10, 0, 10), cylinder({1, 0}, 2, 5, 8)).distance_mm, 0.0);
    const CutGap cross = gap(cylinder({0, 0}, 5, 0, 10), cylinder({1, 0}, 50, 4, 6));
    EXPECT_EQ(cross.distance_mm, 0.0);
    EXPECT_TRUE(holds(cylinder({0, 0}, 5, 0, 10), cross.on_first));
    EXPECT_TRUE(holds(cylinder({1, 0}, 50, 4, 6), cross.on_first));
}

TEST(CutGap, a_hole_within_an_island_is_as_far_as_the_islands_edge) {
    Cut hollow = cylinder({0, 0}, 60, 0, 10);
    hollow.area.islands = {Contour(Circle{{30, 0}, 10})};
    EXPECT_NEAR(gap(hollow, cylinder({31, 0}, 3, 0, 30)).distance_mm, 6.0, 1e-9);
    EXPECT_NEAR(gap(cylinder({31, 0}, 3, 14, 30), hollow).distance_mm, std::hypot(6.0, 4.0), 1e-9);
    // From (10, 10) across and up, square to the flank from (0, 13) to (6, 19).
    EXPECT_NEAR(gap(cone({30, 0}, 0, 6, 13, 19), hollow).distance_mm, 13 / std::numbers::sqrt2, 1e-9);
}

TEST(CutGap, a_cone_beside_and_above_a_rectangle) {
    Cut relief = cylinder({0, 0}, 1, 0, 10);
    relief.area.outer = rectangle({0, 0}, 40, 20, 0, Angle());
    // Tip 3 above the floor, over the pocket.
    EXPECT_NEAR(gap(cone({5, 5}, 0, 4, 13, 17), relief).distance_mm, 3.0, 1e-9);
    // A 90-degree cone with its tip 8 beside and level with the edge: the flank is nearest square to it.
    EXPECT_NEAR(gap(cone({28, 0}, 0, 4, 10, 14), relief).distance_mm, std::hypot(4, 4), 1e-9);
    EXPECT_NEAR(gap(cone({28, 0}, 0, 8, 10, 18), relief).distance_mm, 8 / std::numbers::sqrt2, 1e-9);
}

TEST(CutGap, prisms_of_any_outline) {
    Cut first = cylinder({0, 0}, 1, 0, 10);
    first.area.outer = rectangle({0, 0}, 40, 20, 3, Angle());
    Cut second = first;
    second.area.outer = slot({23, 0}, {60, 0}, 5);
    EXPECT_NEAR(gap(first, second).distance_mm, 0.5, 1e-9);
    second.z_low_mm = 11.2;
    second.z_high_mm = 15;
    EXPECT_NEAR(gap(first, second).distance_mm, 1.3, 1e-9);
    second.area.outer = slot({0, 0}, {60, 0}, 5);
    EXPECT_NEAR(gap(first, second).distance_mm, 1.2, 1e-9);
}

TEST(CutGap, any_two_round_cuts_are_as_far_as_a_search_says) {
    for_random_cases([] {
        std::mt19937 engine(
            *rc::gen::noShrink(rc::gen::resize(rc::kNominalSize, rc::gen::arbitrary<unsigned>())));
        const auto number = [&](double from, double to) {
            return std::uniform_real_distribution<double>(from, to)(engine);
        };
        const auto any = [&] {
            const double low = number(0, 30);
            const double high = low + number(0.1, 15);
            const Point at{number(-15, 15), number(-15, 15)};
            switch (engine() % 4) {
                case 0:
                    return cone(at, 0, number(0.5, 8), low, high);
                case 1:
                    return cone(at, number(0.5, 8), 0, low, high);
                case 2:
                    return cone(at, number(0.5, 8), number(0.5, 8), low, high);
                default:
                    return cylinder(at, number(0.5, 8), low, high);
            }
        };
        const Cut first = any();
        const Cut second = any();
        const CutGap found = gap(first, second);
        const CutGap turned = gap(second, first);
        // The search is flat near its least: 1e-7 is its own accuracy, not that of gap().
        RC_ASSERT(std::abs(found.distance_mm - searched_gap_mm(first, second)) < 1e-7);
        RC_ASSERT(std::abs(found.distance_mm - turned.distance_mm) < 1e-10);
        RC_ASSERT(std::abs(span_mm(found) - found.distance_mm) < 1e-10);
        RC_ASSERT(holds(first, found.on_first));
        RC_ASSERT(holds(second, found.on_second));
    });
}

}  // namespace
}  // namespace fitup::plan
