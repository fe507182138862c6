// How contours lie to each other, and the least gap between them.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>
#include <string>

#include "plan/contour.hpp"
#include "plan/contour_samples.hpp"
#include "plan/property.hpp"

namespace fitup::plan {
namespace {

using std::numbers::pi;

Contour circle(double x, double y, double radius) { return Contour(Circle{{x, y}, radius}); }

Contour rotated_start(const Contour& contour, std::size_t by) {
    std::vector<Edge> edges(contour.edges().begin(), contour.edges().end());
    std::rotate(edges.begin(), edges.begin() + static_cast<std::ptrdiff_t>(by), edges.end());
    return Contour(std::move(edges));
}

Relation turned_round(Relation relation) {
    if (relation == Relation::first_inside_second) return Relation::second_inside_first;
    if (relation == Relation::second_inside_first) return Relation::first_inside_second;
    return relation;
}

TEST(Relation, of_circles_follows_their_distance) {
    const Contour base = circle(0, 0, 10);
    EXPECT_EQ(relation(base, circle(30, 0, 10)), Relation::apart);
    EXPECT_EQ(relation(base, circle(15, 0, 10)), Relation::crossing);
    EXPECT_EQ(relation(base, circle(2, 0, 3)), Relation::second_inside_first);
    EXPECT_EQ(relation(circle(2, 0, 3), base), Relation::first_inside_second);
    EXPECT_EQ(relation(base, circle(0, 0, 10)), Relation::same);
    EXPECT_EQ(relation(base, circle(4e-8, 0, 10)), Relation::same);
}

TEST(Relation, touching_counts_as_crossing_up_to_the_tolerance) {
    const Contour base = circle(0, 0, 10);
    for (const double off : {0.0, 0.9 * same_point_mm, -0.9 * same_point_mm, -3.0 * same_point_mm}) {
        EXPECT_EQ(relation(base, circle(15 + off, 0, 5)), Relation::crossing) << off;
        EXPECT_EQ(relation(base, circle(5 - off, 0, 5)), Relation::crossing) << off;
        EXPECT_EQ(relation(base, rectangle({15 + off, 0}, 10, 10, 0, Angle())), Relation::crossing) << off;
    }
    const double over = 1.1 * same_point_mm;
    EXPECT_EQ(relation(base, circle(15 + over, 0, 5)), Relation::apart);
    EXPECT_EQ(relation(base, circle(5 - over, 0, 5)), Relation::second_inside_first);
    EXPECT_EQ(relation(base, rectangle({15 + over, 0}, 10, 10, 0, Angle())), Relation::apart);
}

TEST(Relation, of_equal_curves_is_same_however_they_are_cut_into_edges) {
    const Contour shape = rectangle({3, 4}, 40, 30, 5, Angle::from_degrees(20));
    for (std::size_t by = 0; by < 8; ++by)
        EXPECT_EQ(relation(shape, rotated_start(shape, by)), Relation::same);
    EXPECT_EQ(relation(shape, rectangle({3, 4}, 40, 30, 5.001, Angle::from_degrees(20))), Relation::crossing);
    const Contour halves(std::vector<Edge>{{{10, 0}, Arc{{0, 0}, Turn::anticlockwise}},
                                           {{-10, 0}, Arc{{0, 0}, Turn::anticlockwise}}});
    EXPECT_EQ(relation(halves, circle(0, 0, 10)), Relation::same);
    const Contour split(
        std::vector<Edge>{{{0, 0}, {}}, {{5, 0}, {}}, {{9, 0}, {}}, {{9, 9}, {}}, {{0, 9}, {}}});
    EXPECT_EQ(relation(split, rectangle({4.5, 4.5}, 9, 9, 0, Angle())), Relation::same);
}

TEST(Relation, of_one_box_is_not_same_when_a_corner_differs) {
    const Contour sharp = rectangle({0, 0}, 20, 20, 0, Angle());
    EXPECT_EQ(relation(sharp, rectangle({0, 0}, 20, 20, 2, Angle())), Relation::crossing);
    EXPECT_EQ(relation(sharp, circle(0, 0, 10)), Relation::crossing);
}

TEST(Relation, a_hole_in_the_bay_of_a_bracket_is_apart) {
    const std::array<Point, 6> points{Point{0, 0}, {90, 0}, {90, 30}, {30, 30}, {30, 70}, {0, 70}};
    const Contour bracket = *polygon(points, 5.0);
    EXPECT_EQ(relation(bracket, circle(60, 50, 10)), Relation::apart);
    EXPECT_EQ(relation(bracket, circle(60, 39, 10)), Relation::crossing);
    EXPECT_EQ(relation(bracket, circle(15, 15, 10)), Relation::second_inside_first);
    EXPECT_EQ(relation(bracket, circle(45, 35, 200)), Relation::first_inside_second);
    // A frame that the circle lies in the middle of, touching nothing.
    EXPECT_EQ(relation(rectangle({60, 50}, 30, 30, 0, Angle()), circle(60, 50, 10)),
              Relation::second_inside_first);
}

TEST(Gap, has_the_closed_forms) {
    EXPECT_NEAR(gap(circle(0, 0, 10), circle(30, 40, 15)).distance_mm, 25.0, 1e-12);
    EXPECT_NEAR(gap(circle(0, 0, 10), circle(3, 4, 2)).distance_mm, 3.0, 1e-12);
    EXPECT_NEAR(gap(circle(0, 0, 10), circle(0, 0, 4)).distance_mm, 6.0, 1e-12);
    EXPECT_EQ(gap(circle(0, 0, 10), circle(12, 0, 4)).distance_mm, 0.0);
    const Contour box = rectangle({0, 0}, 20, 20, 0, Angle());
    EXPECT_NEAR(gap(box, circle(13, 14, 2)).distance_mm, 3.0, 1e-12);
    EXPECT_NEAR(gap(box, circle(20, 0, 2)).distance_mm, 8.0, 1e-12);
    EXPECT_NEAR(gap(box, circle(0, 0, 4)).distance_mm, 6.0, 1e-12);
    EXPECT_NEAR(gap(box, rectangle({0, 0}, 8, 4, 0, Angle())).distance_mm, 6.0, 1e-12);
    // Corner to slanted side: the corner (10, 10) to the line x + y = 40.
    const std::array<Point, 3> far{Point{40, 0}, {40, 40}, {0, 40}};
    EXPECT_NEAR(gap(box, *polygon(far, 0.0)).distance_mm, 20.0 / std::sqrt(2.0), 1e-12);
}

TEST(Gap, ends_lie_on_the_curves_that_far_apart) {
    const Gap between = gap(slot({0, 0}, {30, 0}, 10), circle(15, 20, 6));
    EXPECT_NEAR(between.distance_mm, 9.0, 1e-12);
    EXPECT_NEAR(distance_mm(between.on_first, {15, 5}), 0.0, 1e-9);
    EXPECT_NEAR(distance_mm(between.on_second, {15, 14}), 0.0, 1e-9);
}

Contour any_contour() {
    const auto mm = [](int least, int most) { return *rc::gen::inRange(least * 100, most * 100) * 0.01; };
    const Point at{mm(-60, 60), mm(-60, 60)};
    switch (*rc::gen::inRange(0, 4)) {
        case 0:
            return Contour(Circle{at, mm(1, 50)});
        case 1:
            return rectangle(at, mm(2, 80), mm(2, 80), mm(0, 30), Angle::from_degrees(mm(0, 360)));
        case 2:
            return slot(at, {at.x_mm + mm(-40, 40), at.y_mm + mm(1, 40)}, mm(1, 40));
        default:
            break;
    }
    std::vector<Point> star;
    for (int i = 0; i < 7; ++i) {
        const double reach = mm(15, 60);
        star.push_back(
            {at.x_mm + reach * std::cos(2 * pi * i / 7), at.y_mm + reach * std::sin(2 * pi * i / 7)});
    }
    const auto round = polygon(star, 2.0);
    return round ? *round : *polygon(star, 0.0);
}

double sampled_gap_mm(const std::vector<Point>& a, const std::vector<Point>& b) {
    double least = 1e9;
    for (const Point& p : a)
        for (const Point& q : b) least = std::min(least, std::hypot(p.x_mm - q.x_mm, p.y_mm - q.y_mm));
    return least;
}

std::string relation_fault(const Contour& first, const Contour& second) {
    const auto a = samples::along(first, 40);
    const auto b = samples::along(second, 40);
    const Gap between = gap(first, second);
    const double sampled = sampled_gap_mm(a, b);
    if (between.distance_mm > sampled + 1e-9) return "gap is not the least";
    // Points of the samples stand at most 6.4 mm apart (a chord of 160 to a circle of 50, of 40 to a line of
    // 80 or a half turn).
    if (sampled > between.distance_mm + 8.0) return "gap is too small";
    if (std::abs(distance_mm(between.on_first, between.on_second) - between.distance_mm) > 1e-9)
        return "ends and distance differ";
    if (first.distance_to_mm(between.on_first) > 1e-9 || second.distance_to_mm(between.on_second) > 1e-9)
        return "an end is off its curve";
    const Relation found = relation(first, second);
    if (relation(second, first) != turned_round(found)) return "depends on the order";
    if ((between.distance_mm < same_point_mm) != (found == Relation::crossing || found == Relation::same))
        return "gap and relation differ";
    if (between.distance_mm < 0.2) return "";
    const bool inside = samples::polygon_holds(samples::along(second, 400), a.front());
    const bool around = samples::polygon_holds(samples::along(first, 400), b.front());
    const Relation wanted = inside   ? Relation::first_inside_second
                            : around ? Relation::second_inside_first
                                     : Relation::apart;
    return found == wanted ? "" : "wrong nesting";
}

TEST(Relation, and_gap_agree_with_points_on_random_contours) {
    for_random_cases([] { RC_ASSERT(relation_fault(any_contour(), any_contour()) == std::string()); });
}

TEST(Relation, and_gap_stay_when_both_contours_are_moved) {
    for_random_cases([] {
        const Contour first = any_contour();
        const Contour second = any_contour();
        const Angle turn = Angle::from_degrees(*rc::gen::inRange(0, 360));
        const Gap here = gap(first, second);
        const Gap there = gap(moved(first, turn, {31, -17}), moved(second, turn, {31, -17}));
        RC_ASSERT(std::abs(here.distance_mm - there.distance_mm) < 1e-9);
    });
}

}  // namespace
}  // namespace fitup::plan
