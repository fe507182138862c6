// What brings a pattern onto itself, what nearly does, and what is said of it.
#include "calculations/pattern_kind.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "plan/vector.hpp"

namespace fitup::calculations {
namespace {

using plan::Point;
using Points = std::vector<Point>;

constexpr double pi = std::numbers::pi;

Points regular(int count, double radius_mm = 60.0, double start_rad = 0.3, Point centre = {}) {
    Points points;
    for (int i = 0; i < count; ++i)
        points.push_back(centre + plan::turned({radius_mm, 0.0}, start_rad + 2.0 * pi * i / count));
    return points;
}

std::vector<double> diagonal(std::size_t points, double sigma_mm) {
    std::vector<double> covariance(4 * points * points, 0.0);
    for (std::size_t i = 0; i < 2 * points; ++i) covariance[i * (2 * points + 1)] = sigma_mm * sigma_mm;
    return covariance;
}

Survey ids(std::size_t count, plan::Units units = plan::Units::mm) {
    Survey survey;
    survey.units = units;
    for (std::size_t i = 0; i < count; ++i) survey.points.push_back({std::to_string(i + 1)});
    return survey;
}

std::size_t turns_in(const std::vector<Symmetry>& all) {
    return std::size_t(
        std::count_if(all.begin(), all.end(), [](const Symmetry& one) { return !one.is_mirror; }));
}

TEST(Symmetries, of_regular_patterns_are_those_of_the_dihedral_group) {
    for (const int count : {3, 4, 5, 6, 8, 12, 31}) {
        const auto found = symmetries(regular(count), {});
        ASSERT_EQ(found.size(), std::size_t(2 * count - 1)) << count;
        EXPECT_EQ(turns_in(found), std::size_t(count - 1)) << count;
        for (std::size_t k = 0; k + 1 < std::size_t(count); ++k)
            EXPECT_NEAR(found[k].angle_rad, 2.0 * pi * double(k + 1) / count, 1e-9);
    }
}

TEST(Symmetries, of_a_rectangle_a_parallelogram_a_kite_and_none) {
    const auto rectangle = symmetries(Points{{30, 20}, {-30, 20}, {-30, -20}, {30, -20}}, {});
    ASSERT_EQ(rectangle.size(), 3u);
    EXPECT_NEAR(rectangle[0].angle_rad, pi, 1e-12);
    EXPECT_NEAR(rectangle[1].angle_rad, 0.0, 1e-12);
    EXPECT_NEAR(rectangle[2].angle_rad, pi / 2.0, 1e-12);
    const auto parallelogram = symmetries(Points{{30, 20}, {-20, 20}, {-30, -20}, {20, -20}}, {});
    ASSERT_EQ(parallelogram.size(), 1u);
    EXPECT_FALSE(parallelogram[0].is_mirror);
    const auto kite = symmetries(Points{{0, 50}, {20, 0}, {0, -30}, {-20, 0}}, {});
    ASSERT_EQ(kite.size(), 1u);
    EXPECT_TRUE(kite[0].is_mirror);
    EXPECT_NEAR(kite[0].angle_rad, pi / 2.0, 1e-12);
    EXPECT_TRUE(symmetries(Points{{0, 50}, {20, 7}, {3, -30}, {-20, 0}}, {}).empty());
}

TEST(Symmetries, hold_within_the_uncertainty_and_not_beyond) {
    Points points = regular(6);
    points[2] = points[2] + Point{0.05, 0.0};
    EXPECT_EQ(symmetries(points, diagonal(6, 0.03)).size(), 11u);
    EXPECT_LT(symmetries(points, diagonal(6, 0.003)).size(), 11u);
    const auto found = symmetries(points, diagonal(6, 0.03));
    EXPECT_GT(found[0].worst_mm, 0.03);
    EXPECT_LT(found[0].worst_mm, 0.06);
}

TEST(Symmetries, are_as_many_wherever_the_pattern_lies) {
    EXPECT_TRUE(rc::check([] {
        const double turn = *rc::gen::inRange(-3000, 3000) / 1000.0;
        const Point shift{*rc::gen::inRange(-9000, 9000) / 7.0, *rc::gen::inRange(-9000, 9000) / 7.0};
        Points points{{30, 20}, {-30, 20}, {-30, -20}, {30, -20}};
        for (Point& point : points) point = plan::turned(point, turn) + shift;
        RC_ASSERT(symmetries(points, {}).size() == 3u);
    }));
}

TEST(MirroredUse, one_hole_out_of_place_tells_the_sides_apart) {
    for (const int count : {6, 8, 12, 20}) {
        Points points = regular(count, 60.0, 0.3, {100, -50});
        // Sideways: an image in the axis through its old place puts it as far off on the other side.
        const Point out = plan::unit(points[2] - Point{100, -50});
        points[2] = points[2] + plan::left_of(out) * 3.0;
        const MirroredUse use = mirrored_use(points, 0.5);
        EXPECT_EQ(use.fits, count - 1) << count;
        ASSERT_EQ(use.telling.size(), 1u) << count;
        EXPECT_EQ(use.telling[0], 2);
    }
}

TEST(MirroredUse, a_symmetric_pattern_hides_it_and_an_uneven_one_shows_it) {
    EXPECT_TRUE(mirrored_use(regular(8), 0.5).telling.empty());
    EXPECT_TRUE(mirrored_use(Points{{30, 20}, {-30, 20}, {-30, -20}, {30, -20}}, 0.5).telling.empty());
    // Two holes always find two places.
    const MirroredUse uneven = mirrored_use(Points{{0, 50}, {20, 7}, {3, -38}, {-20, 0}}, 0.1);
    EXPECT_EQ(uneven.fits, 2);
    EXPECT_EQ(uneven.telling.size(), 2u);
}

/// Every mirror image on a grid of turns and shifts: brute force beside the search over pairs.
int most_fits_on_a_grid(const Points& points, double slack_mm) {
    int most = 0;
    for (int t = 0; t < 720; ++t) {
        Points image;
        for (const Point& point : points)
            image.push_back(plan::turned({-point.x_mm, point.y_mm}, t * pi / 360.0));
        for (const Point& from : image) {
            for (const Point& to : points) {
                int fits = 0;
                for (const Point& one : image) {
                    const Point at = one + to - from;
                    fits += std::any_of(points.begin(), points.end(), [&](const Point& place) {
                        return plan::distance_mm(at, place) <= slack_mm;
                    });
                }
                most = std::max(most, fits);
            }
        }
    }
    return most;
}

TEST(MirroredUse, finds_no_fewer_holes_than_a_grid_of_turns) {
    EXPECT_TRUE(rc::check([] {
        Points points;
        const int count = *rc::gen::inRange(3, 8);
        for (int i = 0; i < count; ++i)
            points.push_back({*rc::gen::inRange(-40, 41) * 1.0, *rc::gen::inRange(-40, 41) * 1.0});
        for (std::size_t i = 0; i < points.size(); ++i)
            for (std::size_t j = 0; j < i; ++j) RC_PRE(plan::distance_mm(points[i], points[j]) > 3.0);
        RC_ASSERT(mirrored_use(points, 0.6).fits >= most_fits_on_a_grid(points, 0.3));
    }));
}

TEST(PatternKind, an_sae_housing_is_named) {
    const auto kind = pattern_kind(regular(12, 190.5 + 0.02), diagonal(12, 0.05), {}, {});
    ASSERT_TRUE(kind.housing);
    EXPECT_EQ(kind.housing->housing->designation, "4");
    EXPECT_NEAR(kind.housing->off_mm, 0.04, 1e-9);
    EXPECT_TRUE(kind.housing->is_within);
    const KindInWords words = in_words(kind, ids(12));
    EXPECT_EQ(words.circle.find("one circle explains the readings"), 0u) << words.circle;
    EXPECT_EQ(words.spacing.find("equal spacing of 12 explains the readings"), 0u) << words.spacing;
    EXPECT_EQ(words.housing.find("SAE 4 (12 holes on 381 mm) is within the uncertainty"), 0u)
        << words.housing;
    EXPECT_EQ(words.symmetry, "every 30 degrees it falls on itself; it is its own mirror image in 12 axes");
    EXPECT_EQ(
        words.mirrored,
        "used mirrored all 12 holes would still bolt up with 0.5 mm of room around each fastener (as an "
        "M10 in 11 mm): nothing in the pattern tells the sides apart");
}

TEST(PatternKind, an_uneven_pattern_is_called_so) {
    const Points points{{38.4, 112.6},  {101.7, 67.2},  {118.3, -12.8}, {84.9, -88.1},
                        {-9.6, -121.4}, {-96.2, -77.5}, {-119.8, 6.3},  {-71.5, 94.8}};
    const auto kind = pattern_kind(points, diagonal(8, 0.03), {}, BoltsTo{11.0, 10.0, {}, ""});
    const KindInWords words = in_words(kind, ids(8));
    EXPECT_EQ(words.circle.find("not on one circle: so far off would come by chance once in more than a "
                                "million; "),
              0u)
        << words.circle;
    EXPECT_EQ(words.spacing.find("not equally spaced: "), 0u) << words.spacing;
    EXPECT_EQ(words.housing.find("no standard housing: the nearest with as many holes is SAE 6"), 0u)
        << words.housing;
    EXPECT_EQ(words.symmetry, "not symmetric: no turn and no mirror image brings the pattern onto itself");
    EXPECT_LT(kind.mirrored.fits, 5);
    EXPECT_FALSE(kind.slack_is_default);
    EXPECT_EQ(kind.mirrored.slack_mm, 0.5);
}

TEST(PatternKind, speaks_the_files_units) {
    const auto kind = pattern_kind(regular(12, 190.5), diagonal(12, 0.05), {}, {});
    EXPECT_EQ(in_words(kind, ids(12, plan::Units::in)).housing.find("SAE 4 (12 holes on 15 in) is within"),
              0u)
        << in_words(kind, ids(12, plan::Units::in)).housing;
}

TEST(PatternKind, holes_not_measured_are_counted_as_expected) {
    Points points = regular(12, 190.5);
    points.resize(9);
    const auto kind = pattern_kind(points, diagonal(9, 0.05), ExpectedCircle{12, {}}, {});
    ASSERT_TRUE(kind.spacing);
    EXPECT_GT(kind.spacing->chance, 0.5);
    EXPECT_EQ(kind.housing->housing->designation, "4");
    EXPECT_EQ(in_words(pattern_kind(points, diagonal(9, 0.05), {}, {}), ids(9)).housing,
              "no SAE housing has 9 holes");
}

TEST(PatternKind, little_is_said_of_two_or_three_points) {
    const KindInWords two_points = in_words(pattern_kind(Points{{0, 0}, {50, 0}}, {}, {}, {}), ids(2));
    EXPECT_EQ(two_points.circle, "too few points for a circle");
    EXPECT_EQ(two_points.spacing, "");
    EXPECT_EQ(in_words(pattern_kind(Points{{0, 0}, {50, 0}, {90, 0}}, {}, {}, {}), ids(3)).circle,
              "the points lie on a line");
    EXPECT_EQ(in_words(pattern_kind(Points{{0, 0}, {50, 0}, {0, 90}}, {}, {}, {}), ids(3)).circle,
              "three points lie on a circle in any case");
}

}  // namespace
}  // namespace fitup::calculations
