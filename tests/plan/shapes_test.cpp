// Polygons with rounded corners, and the outline around circles.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <string>

#include "plan/contour.hpp"
#include "plan/contour_samples.hpp"
#include "plan/property.hpp"

namespace fitup::plan {
namespace {

using std::numbers::pi;

std::vector<Point> regular(int corners, double radius_mm) {
    std::vector<Point> points;
    for (int i = 0; i < corners; ++i)
        points.push_back(
            {radius_mm * std::cos(2.0 * pi * i / corners), radius_mm * std::sin(2.0 * pi * i / corners)});
    return points;
}

TEST(Polygon, rounded_regular_polygons_have_the_closed_forms) {
    for (const int corners : {3, 4, 6, 17}) {
        const double radius = 4.0;
        const auto shape = polygon(regular(corners, 60.0), radius);
        ASSERT_TRUE(shape);
        // All corners together lose what a polygon about the corner circle has more than it: r^2 (n tan(pi/n)
        // - pi).
        const double excess = corners * std::tan(pi / corners) - pi;
        EXPECT_NEAR(shape->area_mm2(), 0.5 * corners * 3600.0 * std::sin(2.0 * pi / corners) - 16.0 * excess,
                    1e-9);
        EXPECT_NEAR(shape->perimeter_mm(), corners * 120.0 * std::sin(pi / corners) - 2.0 * radius * excess,
                    1e-10);
        EXPECT_EQ(shape->edges().size(), 2U * static_cast<std::size_t>(corners));
    }
}

TEST(Polygon, reflex_corners_are_filled_and_either_sense_will_do) {
    std::vector<Point> points{{0, 0}, {90, 0}, {90, 30}, {30, 30}, {30, 70}, {0, 70}};
    const auto shape = polygon(points, 6.0);
    ASSERT_TRUE(shape);
    // Five right-angled corners lose (1 - pi/4) r^2 each, the reflex one gains it.
    EXPECT_NEAR(shape->area_mm2(), 90.0 * 30.0 + 30.0 * 40.0 - 4.0 * (1.0 - pi / 4.0) * 36.0, 1e-10);
    std::reverse(points.begin(), points.end());
    const auto other = polygon(points, 6.0);
    ASSERT_TRUE(other);
    EXPECT_EQ(relation(*shape, *other), Relation::same);
}

TEST(Polygon, points_on_a_straight_side_are_kept_as_ends) {
    const std::array<Point, 5> points{Point{0, 0}, {20, 0}, {50, 0}, {50, 40}, {0, 40}};
    EXPECT_NEAR(polygon(points, 5.0)->area_mm2(), 2000.0 - (4.0 - pi) * 25.0, 1e-10);
}

TEST(Polygon, roundings_may_use_up_a_side_but_not_more) {
    const std::array<Point, 4> square{Point{0, 0}, {20, 0}, {20, 20}, {0, 20}};
    const auto round = polygon(square, 10.0);
    ASSERT_TRUE(round);
    EXPECT_NEAR(round->area_mm2(), 100.0 * pi, 1e-10);
    EXPECT_EQ(round->edges().size(), 4U);
    EXPECT_FALSE(polygon(square, 10.001));
}

TEST(Polygon, bad_ones_are_refused) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double infinity = std::numeric_limits<double>::infinity();
    using Points = std::vector<Point>;
    const std::vector<Points> bad{
        {},
        {{0, 0}},
        {{0, 0}, {10, 0}},
        {{0, 0}, {10, 0}, {20, 0}},                                                  // no area
        {{0, 0}, {10, 0}, {10, 10}, {10, 10}, {0, 10}},                              // a point twice
        {{0, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}},                                // the first point again
        {{0, 0}, {10, 10}, {10, 0}, {0, 10}},                                        // a bow
        {{0, 0}, {30, 0}, {30, 20}, {20, 20}, {20, 0}, {10, 0}, {10, 20}, {0, 20}},  // runs along itself
        {{0, 0}, {30, 0}, {15, 0}, {15, 20}},                                        // straight back
        {{0, 0}, {20, 0}, {20, 20}, {10, 0}, {0, 20}},  // a corner touches a side
        {{0, 0}, {10, 0}, {10, nan}, {0, 10}},
        {{0, 0}, {10, 0}, {infinity, 10}, {0, 10}},
        {{1e200, 0}, {-1e200, 0}, {0, 1e200}},
    };
    for (std::size_t i = 0; i < bad.size(); ++i) EXPECT_FALSE(polygon(bad[i], 0.0)) << i;
    const std::array<Point, 4> square{Point{0, 0}, {20, 0}, {20, 20}, {0, 20}};
    EXPECT_FALSE(polygon(square, -1.0));
    EXPECT_FALSE(polygon(square, nan));
    EXPECT_FALSE(polygon(square, infinity));
}

TEST(Polygon, a_rounding_that_cuts_into_a_far_part_is_refused) {
    // A finger reaches into the lower left corner, where a large rounding passes.
    const std::vector<Point> finger{{0, 0}, {100, 0}, {100, 100}, {60, 100}, {4, 3}, {40, 100}, {0, 100}};
    EXPECT_TRUE(polygon(finger, 0.0));
    EXPECT_FALSE(polygon(finger, 18.0));
}

TEST(Polygon, random_stars_keep_the_area_of_their_points) {
    for_random_cases([] {
        const int corners = *rc::gen::inRange(3, 40);
        std::vector<Point> points;
        for (int i = 0; i < corners; ++i) {
            const double radius = *rc::gen::inRange(2000, 10000) * 0.01;
            points.push_back(
                {radius * std::cos(2.0 * pi * i / corners), radius * std::sin(2.0 * pi * i / corners)});
        }
        const double area = samples::polygon_area_mm2(points);
        // A star about its middle never crosses itself.
        const auto shape = polygon(points, 0.0);
        RC_ASSERT(shape.has_value());
        RC_ASSERT(std::abs(shape->area_mm2() - area) < 1e-9);
        const auto soft = polygon(points, 0.5);
        if (!soft) return;
        RC_ASSERT(!touches_itself(*soft));
        RC_ASSERT(std::abs(samples::extrapolated(*soft, samples::polygon_area_mm2) / soft->area_mm2() - 1.0) <
                  1e-9);
    });
}

/// Corners of the convex hull (monotone chain), from the left.
std::vector<Point> convex(std::vector<Point> points) {
    std::sort(points.begin(), points.end(),
              [](Point a, Point b) { return a.x_mm != b.x_mm ? a.x_mm < b.x_mm : a.y_mm < b.y_mm; });
    std::vector<Point> chain;
    for (const int half : {0, 1}) {
        const std::size_t start = chain.size();
        for (const Point& p : points) {
            while (chain.size() >= start + 2) {
                const Point& a = chain[chain.size() - 2];
                const Point& b = chain.back();
                if ((b.x_mm - a.x_mm) * (p.y_mm - a.y_mm) - (b.y_mm - a.y_mm) * (p.x_mm - a.x_mm) > 0.0)
                    break;
                chain.pop_back();
            }
            chain.push_back(p);
        }
        chain.pop_back();
        if (half == 0) std::reverse(points.begin(), points.end());
    }
    return chain;
}

bool arc_lies_on_one(const std::vector<Circle>& circles, const Edge& edge) {
    return edge.arc->turn == Turn::anticlockwise &&
           std::any_of(circles.begin(), circles.end(), [&](const Circle& circle) {
               return circle.centre == edge.arc->centre &&
                      std::abs(distance_mm(edge.from, circle.centre) - circle.radius_mm) < 1e-9;
           });
}

/// What is wrong with a hull: every circle inside, every arc on a circle, perimeter as that of points on all
/// circles.
std::string hull_fault(const std::vector<Circle>& circles, const Contour& outline) {
    std::vector<Point> points;
    constexpr int chords = 2000;
    for (const Circle& circle : circles) {
        const auto own = samples::along(Contour(circle), chords / 4);
        points.insert(points.end(), own.begin(), own.end());
        if (!outline.contains(circle.centre)) return "a centre is outside";
        if (outline.distance_to_mm(circle.centre) < circle.radius_mm - 1e-9) return "a circle stands out";
    }
    const double perimeter = samples::polygon_perimeter_mm(convex(points));
    if (perimeter > outline.perimeter_mm() * (1.0 + 1e-12)) return "too short";
    if (perimeter < outline.perimeter_mm() * (1.0 - std::pow(2.0 * pi / chords, 2))) return "too long";
    for (const Edge& edge : outline.edges())
        if (edge.arc && !arc_lies_on_one(circles, edge)) return "an arc is on no circle";
    return touches_itself(outline) ? "it touches itself" : "";
}

TEST(Hull, two_equal_circles_make_a_slot) {
    const std::array<Circle, 2> circles{Circle{{-3, 1}, 3}, {{1, 4}, 3}};
    EXPECT_EQ(relation(hull(circles), slot({-3, 1}, {1, 4}, 6.0)), Relation::same);
}

TEST(Hull, two_unequal_circles_make_a_belt) {
    // Open belt about pulleys of 20 and 8 at 50: 2 sqrt(c^2 - d^2) + pi (R + r) + 2 d asin(d / c), d = R - r.
    const std::array<Circle, 2> circles{Circle{{10, 20}, 20}, {{40, 60}, 8}};
    const double belt = 2.0 * std::sqrt(2500.0 - 144.0) + pi * 28.0 + 2.0 * 12.0 * std::asin(12.0 / 50.0);
    EXPECT_NEAR(hull(circles).perimeter_mm(), belt, 1e-11);
    EXPECT_EQ(hull(circles).edges().size(), 4U);
}

TEST(Hull, a_circle_that_holds_all_is_the_hull) {
    const std::vector<Circle> circles{{{1, 0}, 3}, {{0, 0}, 20}, {{12, 0}, 8}, {{0, 0}, 20}, {{0, -15}, 5}};
    const Contour outline = hull(circles);
    ASSERT_NE(outline.circle(), nullptr);
    EXPECT_EQ(outline.circle()->radius_mm, 20.0);
}

TEST(Hull, points_make_a_polygon) {
    const std::vector<Circle> points{{{0, 0}, 0},   {{40, 0}, 0}, {{20, 0}, 0},
                                     {{40, 30}, 0}, {{0, 30}, 0}, {{9, 9}, 0}};
    EXPECT_EQ(relation(hull(points), rectangle({20, 15}, 40, 30, 0.0, Angle())), Relation::same);
    EXPECT_EQ(hull(points).edges().size(), 4U);
}

TEST(Hull, circles_on_one_tangent_make_one_edge) {
    for (const double turn : {0.0, 31.0, 90.0, 135.0, 180.0, 270.0}) {
        std::vector<Circle> row;
        for (const double at : {0.0, 30.0, 10.0, 50.0, 20.0}) {
            const Angle angle = Angle::from_degrees(turn);
            row.push_back({{at * angle.cos(), at * angle.sin()}, 4.0});
        }
        EXPECT_EQ(hull(row).edges().size(), 4U) << turn;
        EXPECT_NEAR(hull(row).perimeter_mm(), 100.0 + 8.0 * pi, 1e-10) << turn;
    }
}

TEST(Hull, a_large_circle_between_small_ones_is_touched_twice) {
    const std::vector<Circle> circles{{{-60, 0}, 5}, {{0, 0}, 20}, {{60, 0}, 5}};
    EXPECT_EQ(hull(circles).edges().size(), 8U);
    EXPECT_EQ(hull_fault(circles, hull(circles)), "");
}

TEST(Hull, random_circles_are_held_tightly) {
    for_random_cases([] {
        std::vector<Circle> circles;
        const int count = *rc::gen::inRange(1, 14);
        const bool coarse = *rc::gen::arbitrary<bool>();
        const int step = coarse ? 2500 : 1;
        for (int i = 0; i < count; ++i) {
            const auto whole = [&](int least, int most) {
                return *rc::gen::inRange(least, most) / step * step * 0.01;
            };
            circles.push_back({{whole(-10000, 10000), whole(-10000, 10000)}, whole(100, 6000) + 1.0});
        }
        RC_ASSERT(hull_fault(circles, hull(circles)) == std::string());
    });
}

}  // namespace
}  // namespace fitup::plan
