#include <gtest/gtest.h>

#include <algorithm>

#include "base/error.hpp"
#include "mesh/polygon.hpp"
#include "mesh/rod_mesh.hpp"
#include "mesh/skins.hpp"

namespace fitup::mesh {
namespace {

using testing::plate;
using testing::plate_with_many_holes;
using testing::polygon_area_mm2;

/// Rounding of some 1e5 terms; derived from 1e-16 times the terms' number to the half, with a margin.
constexpr double exact = 1e-12;

TEST(Polygon, circle_is_as_wide_as_it_is_and_symmetrical) {
    const Fineness fineness;
    for (const double radius : {0.4, 3.3, 21.0, 190.5}) {
        const auto points = polygon_of(plan::Contour(plan::Circle{{10.0, -7.0}, radius}), fineness);
        ASSERT_EQ(points.size() % 4, 0U);
        EXPECT_EQ(points[0], (plan::Point{10.0 + radius, -7.0}));
        EXPECT_EQ(points[points.size() / 4], (plan::Point{10.0, -7.0 + radius}));
        EXPECT_EQ(points[points.size() / 2], (plan::Point{10.0 - radius, -7.0}));
    }
}

TEST(Polygon, sides_keep_chord_and_angle_and_no_fewer_would) {
    for (const double radius : {0.5, 5.0, 50.0, 500.0}) {
        for (const double chord : {0.1, 0.01, 0.001}) {
            const Fineness fineness{chord, Angle::from_degrees(10.0)};
            const int n = sides_of_circle(radius, fineness);
            const auto sagitta = [&](int sides) {
                return radius * (1.0 - std::cos(std::numbers::pi / sides));
            };
            EXPECT_LE(sagitta(n), chord * (1.0 + 1e-6));
            EXPECT_LE(360.0 / n, 10.0);
            EXPECT_TRUE(sagitta(n - 4) > chord || 360.0 / (n - 4) > 10.0);
        }
    }
}

TEST(Polygon, points_of_a_path_lie_on_it_and_reach_its_box) {
    for (const double turn : {0.0, 17.0, -63.0}) {
        const auto contour = plan::rectangle({3.0, 4.0}, 60.0, 30.0, 8.0, Angle::from_degrees(turn));
        const auto points = polygon_of(contour, {});
        EXPECT_EQ(static_cast<double>(points.size()), count_of_points(contour, {}));
        plan::Box2 box{points[0], points[0]};
        for (const plan::Point p : points) {
            EXPECT_LT(contour.distance_to_mm(p), 1e-12);
            box.least = {std::min(box.least.x_mm, p.x_mm), std::min(box.least.y_mm, p.y_mm)};
            box.most = {std::max(box.most.x_mm, p.x_mm), std::max(box.most.y_mm, p.y_mm)};
        }
        // A quarter turn within 6e-4 degrees of an arc's end is not split off: 8 mm times (6e-4 degrees)^2
        // / 2.
        EXPECT_NEAR(box.least.x_mm, contour.box().least.x_mm, 5e-10);
        EXPECT_NEAR(box.most.y_mm, contour.box().most.y_mm, 5e-10);
    }
}

TEST(SkinMesh, plate_with_holes_is_closed_and_has_the_volume_of_its_polygons) {
    const Fineness fineness;
    const auto skin = plate(100.0, 12.0, {{{0.0, 0.0}, 30.0}, {{60.0, 10.0}, 5.25}, {{-60.0, 10.0}, 0.3}});
    const Mesh mesh = mesh_of(skin, fineness);
    EXPECT_TRUE(is_watertight(mesh));
    double area = polygon_area_mm2(100.0, fineness);
    for (const double radius : {30.0, 5.25, 0.3}) area -= polygon_area_mm2(radius, fineness);
    EXPECT_NEAR(volume_mm3(mesh) / (area * 12.0), 1.0, exact);
    EXPECT_EQ(mesh.triangles.size(), estimated_triangles(skin, fineness));
    EXPECT_EQ(box(mesh).most, (plan::Point3{100.0, 100.0, 12.0}));
}

TEST(SkinMesh, drill_point_and_countersink_are_pyramids_and_their_stumps) {
    const Fineness fineness{0.1, Angle::from_degrees(10.0)};
    plan::Skin skin = plate(20.0, 30.0, {});
    skin.contours.emplace_back(plan::Circle{{2.0, 1.0}, 4.0});
    skin.contours.emplace_back(plan::Circle{{2.0, 1.0}, 7.0});
    skin.floors[1].inner = {2};
    skin.slopes.push_back({2, 1, 30.0, 27.0, true, "hole"});
    skin.walls.push_back({1, 10.0, 27.0, false, "hole"});
    skin.slopes.push_back({1, {}, 10.0, 7.5, true, "hole"});
    const Mesh mesh = mesh_of(skin, fineness);
    EXPECT_TRUE(is_watertight(mesh));
    const double wide = polygon_area_mm2(7.0, fineness);
    const double narrow = polygon_area_mm2(4.0, fineness);
    ASSERT_EQ(sides_of_circle(7.0, fineness), sides_of_circle(4.0, fineness))
        << "the closed form below needs it";
    // Stump of a pyramid: h/3 (A1 + A2 + sqrt(A1 A2)); pyramid: h/3 A.
    const double removed =
        3.0 / 3.0 * (wide + narrow + std::sqrt(wide * narrow)) + 17.0 * narrow + 2.5 / 3.0 * narrow;
    EXPECT_NEAR(volume_mm3(mesh) / (polygon_area_mm2(20.0, fineness) * 30.0 - removed), 1.0, exact);
}

TEST(SkinMesh, slope_between_circles_with_different_sides_is_closed) {
    const Fineness fineness{0.01, Angle::from_degrees(10.0)};
    plan::Skin skin = plate(150.0, 10.0, {});
    skin.contours.emplace_back(plan::Circle{{0.0, 0.0}, 140.0});
    skin.contours.emplace_back(plan::Circle{{0.0, 0.0}, 20.0});
    ASSERT_NE(sides_of_circle(140.0, fineness), sides_of_circle(20.0, fineness));
    skin.floors[1].inner = {1};
    skin.slopes.push_back({1, 2, 10.0, 4.0, true, "dish"});
    skin.floors.push_back({4.0, true, 2, {}, "dish"});
    const Mesh mesh = mesh_of(skin, fineness);
    EXPECT_TRUE(is_watertight(mesh));
    const double dish = std::numbers::pi * 6.0 / 3.0 * (140.0 * 140.0 + 140.0 * 20.0 + 20.0 * 20.0);
    // Every facet is within the chord of the surface, so the volumes differ by at most chord times area.
    EXPECT_NEAR(volume_mm3(mesh), std::numbers::pi * 150.0 * 150.0 * 10.0 - dish, 0.01 * area_mm2(mesh));
}

TEST(SkinMesh, modelled_edge_break_on_a_rounded_rectangle) {
    const auto outline = plan::rectangle({}, 80.0, 50.0, 6.0, {});
    const auto broken = plan::inset(outline, 0.5);
    ASSERT_EQ(broken.size(), 1U);
    plan::Skin skin;
    skin.contours = {outline, broken[0]};
    skin.walls.push_back({0, 0.5, 9.5, true, "outline"});
    skin.slopes.push_back({0, 1, 0.5, 0.0, false, "edge break A"});
    skin.slopes.push_back({0, 1, 9.5, 10.0, true, "edge break B"});
    skin.floors.push_back({0.0, false, 1, {}, "face A"});
    skin.floors.push_back({10.0, true, 1, {}, "face B"});
    const Mesh mesh = mesh_of(skin, {});
    EXPECT_TRUE(is_watertight(mesh));
    const double outer = outline.area_mm2();
    const double inner = broken[0].area_mm2();
    // Prismatoid: h/6 (A1 + 4 Am + A2), Am the inset by 0.25.
    const double middle = plan::inset(outline, 0.25)[0].area_mm2();
    const double volume = 9.0 * outer + 2.0 * 0.5 / 6.0 * (outer + 4.0 * middle + inner);
    EXPECT_NEAR(volume_mm3(mesh), volume, 0.01 * 10.0 * outline.perimeter_mm());
}

TEST(SkinMesh, web_thinner_than_the_chord_is_meshed_finer_until_nothing_crosses) {
    // 1 micrometre of metal between hole and outline, chord 10 micrometres.
    const Mesh mesh = mesh_of(plate(50.0, 5.0, {{{29.3, 29.3}, 50.0 - std::hypot(29.3, 29.3) - 0.001}}), {});
    EXPECT_TRUE(is_watertight(mesh));
    // A hole that lies between chord and curve altogether.
    const double at = 50.0 * std::cos(std::numbers::pi / sides_of_circle(50.0, {})) + 0.004;
    const Angle half_a_side = Angle::from_degrees(180.0 / sides_of_circle(50.0, {}));
    const auto hidden = plate(50.0, 5.0, {{{at * half_a_side.cos(), at * half_a_side.sin()}, 0.002}});
    const Mesh fine = mesh_of(hidden, {});
    EXPECT_TRUE(is_watertight(fine));
    EXPECT_GT(fine.triangles.size(), estimated_triangles(hidden, {}));
}

TEST(SkinMesh, crossing_contours_are_an_error_not_a_broken_mesh) {
    EXPECT_THROW(mesh_of(plate(50.0, 5.0, {{{0.0, 0.0}, 5.0}, {{7.0, 0.0}, 5.0}}), {}), Error);
}

TEST(SkinMesh, absurd_fineness_is_refused_before_memory_is_taken) {
    const auto skin = plate(200.0, 5.0, {{{0.0, 0.0}, 50.0}});
    const Fineness absurd{1e-18, Angle::from_degrees(10.0)};
    EXPECT_GT(estimated_triangles(skin, absurd), most_triangles);
    EXPECT_THROW(mesh_of(skin, absurd), Error);
    EXPECT_GT(estimated_triangles(skin, {0.0, Angle::from_degrees(0.0)}), most_triangles);
}

TEST(LeastFineness, is_made_and_a_little_finer_is_not) {
    const auto skin = plate_with_many_holes(40);
    const auto count = [&skin](const Fineness& fineness) { return estimated_triangles(skin, fineness); };
    const Angle wide = Angle::from_degrees(45.0);
    const auto chord_mm = least_chord_mm(count, wide);
    ASSERT_TRUE(chord_mm);
    EXPECT_LE(estimated_triangles(skin, {*chord_mm, wide}), most_triangles);
    // Two digits that count: the next lower number is at most a tenth under it, and the count goes with the
    // chord's square root.
    EXPECT_GT(estimated_triangles(skin, {0.89 * *chord_mm, wide}), most_triangles);
    // Circle of n sides over chord c: n = 2 pi / (4 asin sqrt(c / 2r)), about pi sqrt(r / 2c); 4 n triangles
    // a hole.
    const double sides = most_triangles / 4.0 / (24 * 40);
    EXPECT_NEAR(*chord_mm, 3.0 / 2.0 * std::pow(std::numbers::pi / sides, 2), 0.1 * *chord_mm);
}

TEST(LeastFineness, an_angle_is_found_where_no_chord_would_do) {
    const auto skin = plate_with_many_holes(80);
    const auto count = [&skin](const Fineness& fineness) { return estimated_triangles(skin, fineness); };
    const Angle fine = Angle::from_degrees(0.1);
    EXPECT_FALSE(least_chord_mm(count, fine));
    const auto angle = least_angle(count, 0.01);
    ASSERT_TRUE(angle);
    EXPECT_LE(estimated_triangles(skin, {0.01, *angle}), most_triangles);
    EXPECT_GT(estimated_triangles(skin, {0.01, *angle * 0.89}), most_triangles);
    EXPECT_FALSE(least_angle(count, 1e-12));
}

TEST(LeastFineness, of_a_bent_rod_is_made_too) {
    plan::Rod rod;
    rod.diameter_mm = 12.0;
    rod.bend_radius_mm = 30.0;
    for (int i = 0; i < 12; ++i) rod.corners.push_back({100.0 * (i / 2), 100.0 * ((i + 1) / 2 % 2), 0.0});
    rod.ends[0].diameter_mm = rod.ends[1].diameter_mm = rod.diameter_mm;
    const auto count = [&rod](const Fineness& fineness) { return estimated_triangles(rod, fineness); };
    EXPECT_GT(count({1e-4, Angle::from_degrees(0.1)}), most_triangles);
    EXPECT_THROW(rod_mesh(rod, {1e-4, Angle::from_degrees(0.1)}), Error);
    const auto angle = least_angle(count, 1e-3);
    ASSERT_TRUE(angle);
    EXPECT_LE(count({1e-3, *angle}), most_triangles);
    EXPECT_GT(count({1e-3, *angle * 0.89}), most_triangles);
    const std::size_t made = rod_mesh(rod, {}).triangles.size();
    EXPECT_LE(made, count({}));
    // Sixteen rings' worth at most that an end may have and this one has not.
    EXPECT_GE(made + 16 * static_cast<std::size_t>(sides_of_circle(6.0, {0.005, Angle::from_degrees(10.0)})),
              count({}));
}

TEST(SkinMesh, volume_converges_with_the_square_of_the_angle) {
    const auto skin = plate(80.0, 10.0, {{{20.0, 0.0}, 15.0}});
    const double round = std::numbers::pi * (80.0 * 80.0 - 15.0 * 15.0) * 10.0;
    double before = 0.0;
    for (const double angle : {10.0, 5.0, 2.5, 1.25}) {
        const double error = round - volume_mm3(mesh_of(skin, {10.0, Angle::from_degrees(angle)}));
        // Order 2: half the angle, a quarter of the error. Area lost is (1 - sin x / x), x = 2 pi / n: next
        // term x^2 / 20.
        if (before != 0.0) {
            EXPECT_NEAR(before / error, 4.0, 0.01);
        }
        before = error;
    }
}

TEST(SkinMesh, no_sliver_among_many_holes) {
    const Mesh mesh = mesh_of(plate_with_many_holes(10), {});
    EXPECT_TRUE(is_watertight(mesh));
    double least_height = 1e9;
    for (const auto& t : mesh.triangles) {
        const Mesh one{{mesh.vertices[t[0]], mesh.vertices[t[1]], mesh.vertices[t[2]]}, {{0, 1, 2}}};
        double longest = 0.0;
        for (std::size_t k = 0; k < 3; ++k) {
            const auto& a = one.vertices[k];
            const auto& b = one.vertices[(k + 1) % 3];
            longest = std::max(longest, std::hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]));
        }
        least_height = std::min(least_height, 2.0 * area_mm2(one) / longest);
    }
    // Sides of the holes are 0.52 mm long and turn by 10 degrees: the least height that can't be helped is of
    // that size times sin(5 degrees), 0.02 mm.
    EXPECT_GT(least_height, 0.02);
}

TEST(SkinMesh, same_skin_same_mesh) {
    const auto skin = plate_with_many_holes(3);
    const Mesh one = mesh_of(skin, {});
    const Mesh two = mesh_of(skin, {});
    EXPECT_EQ(one.vertices, two.vertices);
    EXPECT_EQ(one.triangles, two.triangles);
}

}  // namespace
}  // namespace fitup::mesh
