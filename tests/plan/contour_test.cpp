#include "plan/contour.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>

#include "plan/contour_samples.hpp"
#include "plan/property.hpp"

namespace fitup::plan {
namespace {

using std::numbers::pi;

/// Doubles carry 16 digits; sums over a few edges of shapes of 100 mm keep 13 of them.
constexpr double tight_mm = 1e-11;

Angle degrees(double value) { return Angle::from_degrees(value); }

/// A moon: a circle of 10 with a bite of radius 10 centred at (12, 0). Concave, ends in two sharp horns.
Contour moon() {
    const double x = 6.0;
    const double y = 8.0;
    return Contour(std::vector<Edge>{{{x, y}, Arc{{0.0, 0.0}, Turn::anticlockwise}},
                                     {{x, -y}, Arc{{12.0, 0.0}, Turn::clockwise}}});
}

std::vector<Contour> one_of_each() {
    const std::array<Point, 6> bracket{Point{0, 0}, {90, 0}, {90, 30}, {30, 30}, {30, 70}, {0, 70}};
    const std::array<Circle, 3> eyes{Circle{{0, 0}, 20}, {{70, 10}, 9}, {{-20, 60}, 12}};
    return {Contour(Circle{{3.0, -4.0}, 25.0}),
            rectangle({5.0, 6.0}, 80.0, 50.0, 0.0, degrees(0.0)),
            rectangle({5.0, 6.0}, 80.0, 50.0, 7.0, degrees(33.0)),
            slot({-20.0, 3.0}, {35.0, 18.0}, 12.0),
            moon(),
            *polygon(bracket, 6.0),
            hull(eyes)};
}

TEST(Contour, circle_has_the_closed_forms) {
    const Contour circle(Circle{{3.0, -4.0}, 25.0});
    EXPECT_DOUBLE_EQ(circle.area_mm2(), 625.0 * pi);
    EXPECT_DOUBLE_EQ(circle.perimeter_mm(), 50.0 * pi);
    EXPECT_EQ(circle.box().least, (Point{-22.0, -29.0}));
    EXPECT_EQ(circle.box().most, (Point{28.0, 21.0}));
    EXPECT_TRUE(circle.contains({3.0, 20.9}));
    EXPECT_FALSE(circle.contains({3.0, 21.0}));
    EXPECT_DOUBLE_EQ(circle.distance_to_mm({3.0, -4.0}), 25.0);
    EXPECT_TRUE(circle.edges().empty());
}

TEST(Contour, rectangle_has_the_closed_forms) {
    for (const double turn : {0.0, 17.0, 90.0, 213.0}) {
        const Contour shape = rectangle({11.0, -7.0}, 80.0, 50.0, 6.0, degrees(turn));
        EXPECT_NEAR(shape.area_mm2(), 80.0 * 50.0 - (4.0 - pi) * 36.0, tight_mm * 100.0);
        EXPECT_NEAR(shape.perimeter_mm(), 2.0 * (68.0 + 38.0) + 12.0 * pi, tight_mm);
        EXPECT_NEAR(shape.distance_to_mm({11.0, -7.0}), 25.0, tight_mm);
        EXPECT_EQ(shape.edges().size(), 8U);
    }
    EXPECT_EQ(rectangle({0.0, 0.0}, 80.0, 50.0, 0.0, degrees(0.0)).area_mm2(), 4000.0);
    EXPECT_EQ(rectangle({0.0, 0.0}, 80.0, 50.0, 0.0, degrees(90.0)).box().most, (Point{25.0, 40.0}));
}

TEST(Contour, rectangle_rounded_by_half_its_side_is_a_slot_or_a_circle) {
    const Contour wide = rectangle({1.0, 2.0}, 80.0, 50.0, 25.0, degrees(30.0));
    EXPECT_EQ(wide.edges().size(), 4U);
    EXPECT_NEAR(wide.area_mm2(), 30.0 * 50.0 + pi * 625.0, 1e-9);
    const Contour tall = rectangle({1.0, 2.0}, 50.0, 80.0, 25.0, degrees(120.0));
    EXPECT_EQ(relation(wide, tall), Relation::same);
    const Contour round = rectangle({1.0, 2.0}, 50.0, 50.0, 25.0, degrees(30.0));
    ASSERT_NE(round.circle(), nullptr);
    EXPECT_EQ(round.circle()->radius_mm, 25.0);
    EXPECT_EQ(rectangle({0.0, 0.0}, 50.0, 50.0, 70.0, degrees(0.0)).circle()->radius_mm, 25.0);
}

TEST(Contour, slot_has_the_closed_forms) {
    const Contour shape = slot({-3.0, 1.0}, {1.0, 4.0}, 6.0);
    EXPECT_NEAR(shape.area_mm2(), 5.0 * 6.0 + 9.0 * pi, tight_mm);
    EXPECT_NEAR(shape.perimeter_mm(), 10.0 + 6.0 * pi, tight_mm);
    EXPECT_NEAR(shape.distance_to_mm({-1.0, 2.5}), 3.0, tight_mm);
    ASSERT_NE(slot({2.0, 3.0}, {2.0, 3.0}, 6.0).circle(), nullptr);
    EXPECT_EQ(slot({2.0, 3.0}, {2.0, 3.0}, 6.0).circle()->radius_mm, 3.0);
}

TEST(Contour, moon_is_a_disc_less_a_lens) {
    // Lens of two equal circles at distance d: 2 r^2 acos(d / 2r) - (d/2) sqrt(4 r^2 - d^2); here r = 10, d
    // = 12.
    const double lens = 200.0 * std::acos(0.6) - 6.0 * std::sqrt(400.0 - 144.0);
    EXPECT_NEAR(moon().area_mm2(), 100.0 * pi - lens, tight_mm * 10.0);
    EXPECT_FALSE(moon().contains({3.0, 0.0}));
    EXPECT_TRUE(moon().contains({1.9, 0.0}));
    EXPECT_NEAR(moon().distance_to_mm({12.0, 0.0}), 10.0, tight_mm);
    EXPECT_NEAR(moon().distance_to_mm({6.0, 0.0}), 4.0, tight_mm);
    EXPECT_NEAR(moon().distance_to_mm({10.0, 8.0}), 4.0, tight_mm);
}

TEST(Contour, area_and_perimeter_agree_with_polygons_drawn_on_it) {
    for (const Contour& contour : one_of_each()) {
        const double area = samples::extrapolated(contour, samples::polygon_area_mm2);
        const double perimeter = samples::extrapolated(contour, samples::polygon_perimeter_mm);
        // What the extrapolation leaves is of the fourth power of the chord's angle: (pi / 512)^4 / 80 at
        // most.
        EXPECT_NEAR(contour.area_mm2() / area, 1.0, 2e-11);
        EXPECT_NEAR(contour.perimeter_mm() / perimeter, 1.0, 2e-11);
    }
}

TEST(Contour, box_is_the_box_of_points_on_it) {
    for (const Contour& contour : one_of_each()) {
        Point least{1e9, 1e9};
        Point most{-1e9, -1e9};
        for (const Point& point : samples::along(contour, 2000)) {
            least = {std::min(least.x_mm, point.x_mm), std::min(least.y_mm, point.y_mm)};
            most = {std::max(most.x_mm, point.x_mm), std::max(most.y_mm, point.y_mm)};
        }
        // A point of 2000 on an arc of 25 mm misses its top by r (pi / 2000)^2 / 2.
        const double miss_mm = 25.0 * std::pow(pi / 2000.0, 2) / 2.0;
        const Box2 box = contour.box();
        for (const double over : {least.x_mm - box.least.x_mm, least.y_mm - box.least.y_mm,
                                  box.most.x_mm - most.x_mm, box.most.y_mm - most.y_mm}) {
            EXPECT_GE(over, -tight_mm);
            EXPECT_LE(over, miss_mm);
        }
    }
}

TEST(Contour, contains_and_distance_agree_with_a_fine_polygon) {
    const int chords = 400;
    const double sagitta_mm = 25.0 * std::pow(pi / chords, 2);
    for (const Contour& contour : one_of_each()) {
        const auto points = samples::along(contour, chords);
        for_random_cases([&] {
            const Point point{*rc::gen::inRange(-6000, 12000) * 0.01, *rc::gen::inRange(-6000, 12000) * 0.01};
            double nearest = 1e9;
            for (const Point& other : points)
                nearest = std::min(nearest, std::hypot(other.x_mm - point.x_mm, other.y_mm - point.y_mm));
            const double distance = contour.distance_to_mm(point);
            RC_ASSERT(distance <= nearest + tight_mm);
            // Points stand at most 100 mm / 400 apart.
            RC_ASSERT(std::sqrt(distance * distance + 0.125 * 0.125) + sagitta_mm >= nearest);
            if (distance > 2.0 * sagitta_mm)
                RC_ASSERT(contour.contains(point) == samples::polygon_holds(points, point));
        });
    }
}

TEST(Contour, contains_counts_shared_ends_and_tangent_points_once) {
    // Rays through corners, along edges and touching arcs at their top, where crossings are easily counted
    // twice.
    const Contour shape = rectangle({0.0, 0.0}, 20.0, 10.0, 3.0, degrees(0.0));
    for (const double y : {5.0, 2.0, 0.0, -2.0, -5.0}) {
        EXPECT_FALSE(shape.contains({-30.0, y})) << y;
        EXPECT_FALSE(shape.contains({30.0, y})) << y;
        EXPECT_EQ(shape.contains({0.0, y}), std::abs(y) < 5.0) << y;
    }
    const Contour diamond = rectangle({0.0, 0.0}, 10.0, 10.0, 0.0, degrees(45.0));
    EXPECT_FALSE(diamond.contains({-20.0, 0.0}));
    EXPECT_TRUE(diamond.contains({0.0, 0.0}));
    EXPECT_FALSE(diamond.contains({-1.0, diamond.box().most.y_mm}));
    EXPECT_FALSE(moon().contains({-20.0, 8.0}));
    EXPECT_FALSE(moon().contains({-20.0, -8.0}));
}

TEST(Contour, moving_and_mirroring_keep_shape_and_sense) {
    for (const Contour& contour : one_of_each()) {
        const Contour there = moved(contour, degrees(40.0), {7.0, -9.0});
        const Contour back = moved(moved(there, degrees(0.0), {-7.0, 9.0}), degrees(-40.0), {0.0, 0.0});
        EXPECT_EQ(relation(back, contour), Relation::same);
        const Contour mirror = mirrored_x(contour);
        EXPECT_NEAR(mirror.area_mm2(), contour.area_mm2(), 1e-9);
        EXPECT_EQ(mirror.box().least.x_mm, -contour.box().most.x_mm);
        EXPECT_EQ(relation(mirrored_x(mirror), contour), Relation::same);
    }
}

TEST(Contour, inside_radius_is_the_tightest_corner_a_cutter_meets) {
    EXPECT_EQ(least_inside_radius_mm(Contour(Circle{{0.0, 0.0}, 4.0})), std::nullopt);
    EXPECT_EQ(least_inside_radius_mm(rectangle({0.0, 0.0}, 30.0, 20.0, 0.0, degrees(0.0))), 0.0);
    EXPECT_NEAR(*least_inside_radius_mm(rectangle({0.0, 0.0}, 30.0, 20.0, 4.0, degrees(9.0))), 4.0, 1e-12);
    EXPECT_NEAR(*least_inside_radius_mm(slot({0.0, 0.0}, {9.0, 0.0}, 5.0)), 2.5, 1e-12);
    // A cutter passes round a reflex corner whatever its radius: only the others count.
    const std::array<Point, 6> bracket{Point{0, 0}, {90, 0}, {90, 30}, {30, 30}, {30, 70}, {0, 70}};
    EXPECT_NEAR(*least_inside_radius_mm(*polygon(bracket, 6.0)), 6.0, 1e-12);
    EXPECT_EQ(least_inside_radius_mm(*polygon(bracket, 0.0)), 0.0);
    // An island with a waist has an inside corner for what mills round it.
    const Area round_moon{Contour(Circle{{0.0, 0.0}, 40.0}), {moon()}};
    EXPECT_NEAR(*least_inside_radius_mm(round_moon), 10.0, 1e-12);
    const Area round_box{Contour(Circle{{0.0, 0.0}, 40.0}),
                         {rectangle({0.0, 0.0}, 9.0, 9.0, 0.0, degrees(0.0))}};
    EXPECT_EQ(least_inside_radius_mm(round_box), std::nullopt);
}

TEST(Area, is_outer_less_islands) {
    const Area area{rectangle({0.0, 0.0}, 30.0, 20.0, 0.0, degrees(0.0)),
                    {Contour(Circle{{0.0, 0.0}, 2.0}), rectangle({9.0, 0.0}, 4.0, 2.0, 0.0, degrees(0.0))}};
    EXPECT_NEAR(area_mm2(area), 600.0 - 4.0 * pi - 8.0, tight_mm);
}

}  // namespace
}  // namespace fitup::plan
