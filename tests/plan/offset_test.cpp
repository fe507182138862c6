// Insets and what a round cutter reaches: closed forms, and membership of points found by search.
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "plan/contour.hpp"
#include "plan/contour_samples.hpp"
#include "plan/property.hpp"

namespace fitup::plan {
namespace {

using std::numbers::pi;

/// Sums of some tens of terms of about the area itself, each good to 1e-15.
constexpr double rounding = 1e-12;
/// Curves that nearly touch may cost up to 7.1e-7 mm of the region (see offset.cpp).
constexpr double growth_mm = 1e-6;

double total_mm2(const std::vector<Area>& areas) {
    double sum = 0.0;
    for (const Area& area : areas) sum += area_mm2(area);
    return sum;
}

bool covers(const std::vector<Area>& areas, Point point) {
    return std::any_of(areas.begin(), areas.end(), [point](const Area& area) {
        return area.outer.contains(point) &&
               std::none_of(area.islands.begin(), area.islands.end(),
                            [point](const Contour& island) { return island.contains(point); });
    });
}

double distance_to_areas_mm(const std::vector<Area>& areas, Point point) {
    double least = std::numeric_limits<double>::infinity();
    for (const Area& area : areas) {
        least = std::min(least, area.outer.distance_to_mm(point));
        for (const Contour& island : area.islands) least = std::min(least, island.distance_to_mm(point));
    }
    return least;
}

TEST(Inset, of_a_rectangle_in_closed_form) {
    for (const double by : {0.5, 7.0, 12.0, 19.999}) {
        const auto sharp = inset(rectangle({3, 4}, 100, 40, 0, Angle::from_degrees(31)), by);
        ASSERT_EQ(sharp.size(), 1u);
        EXPECT_NEAR(sharp[0].area_mm2(), (100 - 2 * by) * (40 - 2 * by), rounding * 4000);
        const double corner = std::max(0.0, 12 - by);
        const auto rounded = inset(rectangle({3, 4}, 100, 40, 12, Angle::from_degrees(31)), by);
        ASSERT_EQ(rounded.size(), 1u);
        EXPECT_NEAR(rounded[0].area_mm2(), (100 - 2 * by) * (40 - 2 * by) - (4 - pi) * corner * corner,
                    rounding * 4000);
    }
    EXPECT_TRUE(inset(rectangle({3, 4}, 100, 40, 0, Angle()), 20.001).empty());
    EXPECT_TRUE(inset(Contour(Circle{{1, 2}, 5}), 5).empty());
    EXPECT_NEAR(inset(Contour(Circle{{1, 2}, 5}), 2)[0].area_mm2(), 9 * pi, rounding * 30);
}

TEST(Reachable, of_a_rectangle_a_circle_and_a_ring_in_closed_form) {
    const double r = 6;
    EXPECT_NEAR(total_mm2(reachable(rectangle({9, -2}, 80, 50, 0, Angle::from_degrees(20)), {}, r)),
                80 * 50 - (4 - pi) * r * r, rounding * 4000);
    EXPECT_NEAR(total_mm2(reachable(Contour(Circle{{1, 2}, 30}), {}, r)), 900 * pi, rounding * 3000);
    const std::vector<Circle> boss{{{1, 2}, 10}};
    EXPECT_NEAR(total_mm2(reachable(Contour(Circle{{1, 2}, 30}), boss, r)), 800 * pi, rounding * 3000);
    // A ring just too narrow for the cutter, and one just wide enough.
    EXPECT_TRUE(reachable(Contour(Circle{{1, 2}, 21.999}), boss, r).empty());
    EXPECT_NEAR(total_mm2(reachable(Contour(Circle{{1, 2}, 22.001}), boss, r)), pi * (22.001 * 22.001 - 100),
                rounding * 3000);
}

/// Two bosses of radius R, a gap narrower than the cutter between them: the waist is bridged by two arcs of
/// the cutter. Each triangle of centre, half-way point and cutter's centre gives the area in closed form.
TEST(Reachable, two_bosses_too_near_are_bridged_by_the_cutters_arcs) {
    const double boss = 10, half = 12, r = 6;
    const std::vector<Circle> bosses{{{-half, 0}, boss}, {{half, 0}, boss}};
    const auto areas = reachable(rectangle({0, 0}, 200, 150, 20, Angle()), bosses, r);
    ASSERT_EQ(areas.size(), 1u);
    ASSERT_EQ(areas[0].islands.size(), 1u);
    const double height = std::sqrt((boss + r) * (boss + r) - half * half);
    const double at_boss = std::atan2(height, half), at_cutter = pi / 2 - at_boss;
    // Both bosses, and above and below the waist: two triangles less two sectors of bosses and of the cutter.
    const double waist = 2 * (half * height - boss * boss * at_boss - r * r * at_cutter);
    EXPECT_NEAR(areas[0].islands[0].area_mm2(), 2 * pi * boss * boss + waist, 1e-9);
}

TEST(Reachable, a_neck_narrower_than_the_cutter_parts_the_pocket) {
    // Two squares of 40 joined by a neck 8 wide.
    const std::vector<Point> dumbbell{{-60, -20}, {-20, -20}, {-20, -4}, {20, -4}, {20, -20}, {60, -20},
                                      {60, 20},   {20, 20},   {20, 4},   {-20, 4}, {-20, 20}, {-60, 20}};
    const auto parted = reachable(*polygon(dumbbell, 0), {}, 5);
    ASSERT_EQ(parted.size(), 2u);
    // Where the neck begins its sharp corners let the cutter's edge bulge into it by a segment of its circle.
    const double segment = 25 * std::asin(0.8) - 4 * 3;
    EXPECT_NEAR(total_mm2(parted), 2 * (1600 - (4 - pi) * 25 + segment), 1e-9);
    EXPECT_EQ(reachable(*polygon(dumbbell, 0), {}, 3.9).size(), 1u);
}

TEST(Reachable, a_cutter_that_just_fits_a_corner_or_a_passage_is_no_error) {
    const Contour corner = rectangle({0, 0}, 80, 50, 8, Angle::from_degrees(20));
    EXPECT_NEAR(total_mm2(reachable(corner, {}, 8)), corner.area_mm2(), 1e-6 * corner.perimeter_mm());
    // Just as wide as the cutter: covered or not, as rounding has it, but nothing in between.
    for (const Contour& passage : {slot({-30, 0}, {30, 7}, 16), Contour(Circle{{3, 4}, 8}),
                                   rectangle({0, 0}, 90, 16, 0, Angle::from_degrees(33))}) {
        const double covered = total_mm2(reachable(passage, {}, 8));
        const double whole = passage.circle() != nullptr || passage.edges()[1].arc
                                 ? passage.area_mm2()
                                 : passage.area_mm2() - (4 - pi) * 64;
        EXPECT_TRUE(covered == 0 || std::abs(covered - whole) < 1e-3) << covered << " of " << whole;
    }
}

// Membership of points, found by search.

struct Pocketing {
    Contour inside{Circle{}};
    std::vector<Circle> keep_out;
    double cutter_mm = 0.0;
};

/// Distance to the wall that the point is nearest to, negative beyond it; from samples of the outline alone.
class Clearance {
  public:
    explicit Clearance(const Pocketing& pocketing)
        : pocketing_(pocketing), points_(samples::along(pocketing.inside, 64)) {}

    double at_mm(Point point) const {
        double least = std::numeric_limits<double>::infinity();
        for (std::size_t i = 0; i < points_.size(); ++i)
            least = std::min(least, to_chord_mm(points_[i], points_[(i + 1) % points_.size()], point));
        if (!samples::polygon_holds(points_, point)) least = -least;
        for (const Circle& circle : pocketing_.keep_out)
            least =
                std::min(least, std::hypot(point.x_mm - circle.centre.x_mm, point.y_mm - circle.centre.y_mm) -
                                    circle.radius_mm);
        return least;
    }

  private:
    static double to_chord_mm(Point a, Point b, Point p) {
        const double dx = b.x_mm - a.x_mm, dy = b.y_mm - a.y_mm;
        const double share = ((p.x_mm - a.x_mm) * dx + (p.y_mm - a.y_mm) * dy) / (dx * dx + dy * dy);
        const double at = std::clamp(share, 0.0, 1.0);
        return std::hypot(p.x_mm - a.x_mm - at * dx, p.y_mm - a.y_mm - at * dy);
    }

    const Pocketing& pocketing_;
    std::vector<Point> points_;
};

/// The greatest clearance of any place of the cutter's centre from which it covers the point: a search that
/// narrows about the best places, so a lower bound that is seldom far off.
double best_clearance_mm(const Clearance& clearance, Point point, double cutter_mm) {
    double best = -std::numeric_limits<double>::infinity();
    Point at = point;
    const auto look = [&](Point place) {
        const double away = std::hypot(place.x_mm - point.x_mm, place.y_mm - point.y_mm);
        if (away > cutter_mm) {
            place.x_mm = point.x_mm + (place.x_mm - point.x_mm) * cutter_mm / away;
            place.y_mm = point.y_mm + (place.y_mm - point.y_mm) * cutter_mm / away;
        }
        const double mm = clearance.at_mm(place);
        if (mm > best) {
            best = mm;
            at = place;
        }
    };
    for (int ring = 0; ring <= 4; ++ring) {
        for (int k = 0; k < 24; ++k)
            look({point.x_mm + cutter_mm * ring / 4 * std::cos(k * pi / 12),
                  point.y_mm + cutter_mm * ring / 4 * std::sin(k * pi / 12)});
    }
    for (double step = cutter_mm / 8; step > 0.005; step *= 0.6) {
        const Point middle = at;
        for (int k = 0; k < 12; ++k)
            look({middle.x_mm + step * std::cos(k * pi / 6 + step),
                  middle.y_mm + step * std::sin(k * pi / 6 + step)});
    }
    return best;
}

Contour any_outline() {
    const auto mm = [](int least, int most) { return static_cast<double>(*rc::gen::inRange(least, most)); };
    const double radius = mm(0, 9);
    switch (*rc::gen::inRange(0, 5)) {
        case 0:
            return Contour(Circle{{0, 0}, mm(30, 70)});
        case 1:
            return rectangle({0, 0}, mm(50, 140), mm(50, 120), radius, Angle::from_degrees(mm(0, 90)));
        case 2:
            return slot({mm(-50, -10), 0}, {mm(10, 50), mm(0, 30)}, mm(40, 80));
        case 3: {  // an L
            const double arm = mm(25, 45);
            return *polygon(
                std::vector<Point>{
                    {-50, -50}, {50, -50}, {50, arm - 50}, {arm - 50, arm - 50}, {arm - 50, 50}, {-50, 50}},
                radius);
        }
        default: {  // a star with blunt inner corners
            std::vector<Point> points;
            const double inner = mm(25, 50);
            for (int k = 0; k < 10; ++k) {
                const double reach = k % 2 == 0 ? 65 : inner;
                points.push_back({reach * std::cos(k * pi / 5), reach * std::sin(k * pi / 5)});
            }
            return polygon(points, std::min(radius, 2.0)).value_or(Contour(Circle{{0, 0}, 50}));
        }
    }
}

/// Whole millimetres, so that bosses touch, coincide, and lie tangent to the cutter's way more often than by
/// chance.
Pocketing any_pocketing() {
    Pocketing result{any_outline(), {}, static_cast<double>(*rc::gen::inRange(1, 10))};
    const int bosses = *rc::gen::inRange(0, 13);
    for (int k = 0; k < bosses; ++k)
        result.keep_out.push_back({{static_cast<double>(*rc::gen::inRange(-50, 51)),
                                    static_cast<double>(*rc::gen::inRange(-50, 51))},
                                   static_cast<double>(*rc::gen::inRange(2, 16))});
    return result;
}

/// A polygon of 64 chords an arc lies within this of its arcs: r (1 - cos(pi / 64)) over the largest half
/// turn.
constexpr double sampling_mm = 70 * 0.0012;

std::string told(const Pocketing& one) {
    std::string text =
        "cutter " + std::to_string(one.cutter_mm) + ", area " + std::to_string(one.inside.area_mm2());
    for (const Circle& c : one.keep_out)
        text += ", boss " + std::to_string(c.centre.x_mm) + " " + std::to_string(c.centre.y_mm) + " r " +
                std::to_string(c.radius_mm);
    return text;
}

TEST(Reachable, is_what_a_search_for_the_cutters_place_finds) {
    for_random_cases(
        [] {
            const Pocketing one = any_pocketing();
            RC_LOG() << told(one);
            const auto areas = reachable(one.inside, one.keep_out, one.cutter_mm);
            const Clearance clearance(one);
            for (int k = 0; k < 40; ++k) {
                const Point point{*rc::gen::inRange(-7000, 7001) / 100.0,
                                  *rc::gen::inRange(-7000, 7001) / 100.0};
                const double found = best_clearance_mm(clearance, point, one.cutter_mm);
                const bool is_covered = covers(areas, point);
                // A place found proves that the point is reached; none found proves nothing on the edge
                // itself.
                if (found > one.cutter_mm + sampling_mm) RC_ASSERT(is_covered);
                if (found < one.cutter_mm - sampling_mm && distance_to_areas_mm(areas, point) > 0.3)
                    RC_ASSERT(!is_covered);
            }
        },
        std::max(10, FITUP_PROPERTY_CASES / 6));
}

TEST(Reachable, again_with_a_smaller_cutter_changes_nothing) {
    for_random_cases([] {
        const Pocketing one = any_pocketing();
        RC_LOG() << told(one);
        for (const Area& area : reachable(one.inside, one.keep_out, one.cutter_mm)) {
            // What a cutter left, a smaller one covers whole and no more of.
            const auto again = reachable(area.outer, {}, one.cutter_mm * 0.9);
            RC_ASSERT(std::abs(total_mm2(again) - area.outer.area_mm2()) < growth_mm * 4000);
        }
    });
}

TEST(Inset, holds_the_points_that_are_deep_enough) {
    for_random_cases([] {
        const Pocketing one{any_outline(), {}, static_cast<double>(*rc::gen::inRange(1, 25))};
        const auto loops = inset(one.inside, one.cutter_mm);
        const Clearance clearance(one);
        for (int k = 0; k < 100; ++k) {
            const Point point{*rc::gen::inRange(-7000, 7001) / 100.0, *rc::gen::inRange(-7000, 7001) / 100.0};
            const double depth = clearance.at_mm(point) - one.cutter_mm;
            if (std::abs(depth) < sampling_mm) continue;
            const bool is_held = std::any_of(loops.begin(), loops.end(),
                                             [point](const Contour& loop) { return loop.contains(point); });
            RC_ASSERT(is_held == (depth > 0));
        }
        for (const Contour& loop : loops) {
            for (const Point& at : samples::along(loop, 4))
                RC_ASSERT(std::abs(one.inside.distance_to_mm(at) - one.cutter_mm) < growth_mm);
        }
    });
}

}  // namespace
}  // namespace fitup::plan
