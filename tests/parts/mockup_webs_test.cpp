// Walls of a mock-up that are too thin to print: sizes by hand, walls by brute force, random crowded plates.
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "mesh/mesh.hpp"
#include "parts/crowded_plates.hpp"
#include "parts/flattened.hpp"
#include "parts/mockups.hpp"
#include "plan/property.hpp"

namespace fitup::parts {
namespace {

using namespace testing;
using plan::Point;

constexpr double nozzle_mm = 0.4;
const Base square{.outline = R"({"rectangle": {"width": 120, "height": 120}})"};

std::string drilled(const std::string& points, double diameter_mm) {
    return pattern(R"("points": [)" + points + "]",
                   R"({"kind": "drilled", "diameter": )" + std::to_string(diameter_mm) + "}");
}

std::string reliefs(const std::string& rectangles) { return R"("reliefs": [)" + rectangles + "]"; }

std::string relief(double x, double y, double width, double height) {
    return R"({"side": "A", "depth": "through", "rectangle": {"at": [)" + std::to_string(x) + ", " +
           std::to_string(y) + R"(], "width": )" + std::to_string(width) + R"(, "height": )" +
           std::to_string(height) + "}}";
}

/// The mesh is closed, and no wall is thinner than a nozzle is wide.
void expect_printable(const plan::Plan& piece) {
    expect_sound(piece);
    const mesh::Fineness fineness{.chord_mm = 0.01, .angle = Angle::from_degrees(30.0)};
    EXPECT_TRUE(mesh::is_watertight(mesh::mesh_of(plan::skin(piece).skin, fineness))) << piece.name;
    const Thinnest thinnest = thinnest_wall(piece);
    EXPECT_GE(thinnest.mm, nozzle_mm - 2.0 * flat_mm)
        << piece.name << ": " << thinnest.first << " and " << thinnest.second << " at " << thinnest.at.x_mm
        << ", " << thinnest.at.y_mm;
}

std::vector<plan::Contour> openings_of(const plan::Plan& piece) {
    std::vector<plan::Contour> openings;
    for (const plan::Pocket& pocket : piece.pockets) {
        if (pocket.through) openings.push_back(pocket.areas.front().outer);
    }
    return openings;
}

double least_off_mm(const plan::Contour& curve, Point point) {
    double least_mm = 1e300;
    const auto points = flattened(curve);
    for (std::size_t i = 0; i < points.size(); ++i)
        least_mm = std::min(least_mm, apart_mm(point, points[i], points[(i + 1) % points.size()]));
    return least_mm;
}

double wide_mm(const plan::Contour& curve) { return curve.box().most.x_mm - curve.box().least.x_mm; }

TEST(MockupWebs, a_wide_allowance_is_lessened_where_that_keeps_a_wall) {
    // A web of 1.5 mm: with 2 mm on each diameter the holes would overlap by half a millimetre.
    const plan::Plan plate = plan_with(drilled("[-5.75, 0], [5.75, 0], [0, -40]", 10.0), square);
    const MadeMockup made = mockup(plate, {.hole_allowance_mm = 2.0});
    const plan::Plan& piece = piece_named(made, "-mockup");
    // By hand: 11.5 between middles less 0.4 of wall are the two radii.
    EXPECT_NEAR(hole_named(piece, "p-1").diameter_mm, 11.1, 1e-12);
    EXPECT_NEAR(hole_named(piece, "p-2").diameter_mm, 11.1, 1e-12);
    EXPECT_NEAR(hole_named(piece, "p-3").diameter_mm, 12.0, 1e-12) << "nothing is beside it";
    EXPECT_NEAR(thinnest_wall(piece).mm, nozzle_mm, 2.0 * flat_mm);
    EXPECT_TRUE(says(made.findings, "p-1, p-2 are 11.1 mm wide instead of 12 mm"));
    expect_printable(piece);
}

TEST(MockupWebs, a_wide_allowance_is_lessened_beside_the_edge_and_made_up_for_shrinkage) {
    const plan::Plan plate = plan_with(drilled("[53, 0]", 10.0), square);
    const MadeMockup made = mockup(plate, {.hole_allowance_mm = 5.0, .shrinkage = 0.05});
    const plan::Plan& piece = piece_named(made, "-mockup");
    // 2 mm of wall, 2 / 0.95 as printed; 0.4 of it stay: the diameter grows by 2 (2 - 0.4 * 0.95) = 3.24.
    EXPECT_NEAR(hole_named(piece, "p-1").diameter_mm * 0.95, 13.24, 1e-9);
    EXPECT_NEAR(thinnest_wall(piece).mm, nozzle_mm, 2.0 * flat_mm);
    EXPECT_TRUE(says(made.findings, "p-1 is 13.24 mm wide instead of 15 mm"));
    expect_printable(piece);
}

TEST(MockupWebs, a_hole_keeps_the_allowance_that_a_print_needs) {
    // With 0.3 mm on each diameter the holes just touch.
    const plan::Plan plate = plan_with(drilled("[-5.15, 0], [5.15, 0]", 10.0), square);
    for (const double allowance_mm : {0.3, 1.0}) {
        SCOPED_TRACE(allowance_mm);
        const MadeMockup made = mockup(plate, {.hole_allowance_mm = allowance_mm});
        const plan::Plan& piece = piece_named(made, "-mockup");
        EXPECT_TRUE(piece.holes.empty());
        const auto openings = openings_of(piece);
        ASSERT_EQ(openings.size(), 1u);
        EXPECT_NEAR(wide_mm(openings.front()), 20.3 + allowance_mm, 1e-9) << "each as wide as ever";
        EXPECT_TRUE(openings.front().contains({0, 0}));
        EXPECT_GE(least_off_mm(openings.front(), {0, 0}), nozzle_mm) << "a sound neck between them";
        expect_printable(piece);
    }
    EXPECT_TRUE(says(mockup(plate, {}).findings, "the wall between p-1 and p-2 is left out"));
}

TEST(MockupWebs, a_thin_wall_beside_the_edge_is_left_out) {
    const plan::Plan plate = plan_with(drilled("[54.9, 0]", 10.0), square);
    const MadeMockup made = mockup(plate, {.hole_allowance_mm = 0.2});
    const plan::Plan& piece = piece_named(made, "-mockup");
    EXPECT_TRUE(piece.holes.empty());
    EXPECT_TRUE(openings_of(piece).empty());
    EXPECT_TRUE(says(made.findings, "the wall between the edge and p-1 is left out"));
    // The hole is a notch: its middle is off the metal, its far side where it was.
    EXPECT_FALSE(piece.body.outline.contains({54.9, 0}));
    EXPECT_NEAR(least_off_mm(piece.body.outline, {54.9, 0}), 5.1, flat_mm);
    expect_printable(piece);
}

TEST(MockupWebs, three_holes_that_touch_one_another_are_one_opening) {
    // On an equilateral triangle of 10.3 mm, each with 0.3 mm on its diameter; a bit of metal stays in the
    // middle.
    const plan::Plan plate = plan_with(drilled("[-5.15, 0], [5.15, 0], [0, 8.920061659]", 10.0), square);
    const MadeMockup made = mockup(plate, {});
    const plan::Plan& piece = piece_named(made, "-mockup");
    ASSERT_EQ(openings_of(piece).size(), 1u);
    EXPECT_TRUE(says(made.findings, "between p-1 and p-2, p-1 and p-3, p-2 and p-3 is left out"));
    expect_printable(piece);
}

TEST(MockupWebs, a_long_thin_wall_is_left_out_whole) {
    const plan::Plan plate =
        plan_with(reliefs(relief(-10.1, 0, 20, 30) + ", " + relief(10.1, 0, 20, 30)), square);
    const MadeMockup made = mockup(plate, {});
    const plan::Plan& piece = piece_named(made, "-mockup");
    const auto openings = openings_of(piece);
    ASSERT_EQ(openings.size(), 1u);
    for (double y = -14.9; y < 15.0; y += 0.1) EXPECT_TRUE(openings.front().contains({0.0, y})) << y;
    // Two rectangles and the wall of 0.2 x 30; round its ends not more than two half discs of 0.4 mm.
    EXPECT_GT(openings.front().area_mm2(), 1206.0);
    EXPECT_LT(openings.front().area_mm2(), 1206.6);
    expect_printable(piece);
}

TEST(MockupWebs, cut_outs_whose_sides_lie_on_one_line_are_one) {
    // An angle of two oblongs: 40 x 10 and 10 x 30 from one corner.
    const std::string angle = reliefs(relief(20, 5, 40, 10) + ", " + relief(5, 15, 10, 30));
    for (const double shrinkage : {0.0, 0.013}) {
        SCOPED_TRACE(shrinkage);
        const MadeMockup made = mockup(plan_with(angle, square), {.shrinkage = shrinkage});
        ASSERT_EQ(made.pieces.size(), 2u);
        const auto openings = openings_of(made.pieces.front().plan);
        ASSERT_EQ(openings.size(), 1u);
        EXPECT_NEAR(openings.front().area_mm2() * (1 - shrinkage) * (1 - shrinkage), 400 + 300 - 100, 1e-9);
        EXPECT_EQ(openings.front().edges().size(), 6u);
        EXPECT_FALSE(says(made.findings, "left out"));
        expect_printable(made.pieces.front().plan);
    }
}

TEST(MockupWebs, a_cut_out_to_the_very_edge_is_open_there) {
    const plan::Plan plate = plan_with(reliefs(relief(50, 0, 20, 10)), square);
    const MadeMockup made = mockup(plate, {});
    const plan::Plan& piece = piece_named(made, "-mockup");
    EXPECT_TRUE(openings_of(piece).empty());
    EXPECT_FALSE(piece.body.outline.contains({59.9, 0}));
    EXPECT_TRUE(piece.body.outline.contains({59.9, 6}));
    expect_printable(piece);
}

TEST(MockupWebs, bits_that_come_loose_are_left_out) {
    // Six holes on a circle of 12 mm touch one another round a bit of metal; by hand: a hexagon less a third
    // of each hole.
    const plan::Plan plate = plan_with(pattern(R"("circle": {"diameter": 12, "count": 6, "start_angle": 0})",
                                               R"({"kind": "drilled", "diameter": 5.8})"),
                                       square);
    const MadeMockup made = mockup(plate, {});
    ASSERT_EQ(made.pieces.size(), 2u);
    EXPECT_TRUE(says(made.findings, "that comes loose between cuts is left out"));
    EXPECT_FALSE(is_in(made.pieces.front().plan, {0, 0}));
    expect_printable(made.pieces.front().plan);
}

/// Of the part's own metal, well off every cut and edge: in the part's own frame.
bool is_plain_metal(const plan::Plan& part, Point point, double off_mm) {
    const auto is_clear = [&](const plan::Contour& curve) {
        return !curve.contains(point) && curve.distance_to_mm(point) > off_mm;
    };
    if (!part.body.outline.contains(point) || part.body.outline.distance_to_mm(point) < off_mm) return false;
    for (const plan::Hole& hole : part.holes) {
        if (!is_clear(plan::shaft_contour(hole))) return false;
    }
    return std::all_of(part.pockets.begin(), part.pockets.end(),
                       [&](const plan::Pocket& pocket) { return is_clear(pocket.areas.front().outer); });
}

/// In a hole through the part.
bool is_plainly_cut(const plan::Plan& part, Point point) {
    return std::any_of(part.holes.begin(), part.holes.end(), [&](const plan::Hole& hole) {
        return hole.through && plan::shaft_contour(hole).contains(point);
    });
}

/// What is metal in the part is metal in one piece, or lies in a joint; what is a hole in it is none in any.
void expect_nothing_lost(const plan::Plan& part, const plan::Mockup& settings, const MadeMockup& made) {
    if (says(made.findings, "lies turned") || says(made.findings, "comes loose")) return;
    const double factor = 1.0 / (1.0 - settings.shrinkage), off_mm = settings.hole_allowance_mm / 2.0 + 1.5;
    for (const Point& point : points_in(part.body.outline.box(), 400)) {
        const bool is_cut = is_plainly_cut(part, point);
        if (!is_cut && !is_plain_metal(part, point, off_mm)) continue;
        int in = 0;
        double nearest_mm = 1e300;
        for (const MockupPiece& piece : made.pieces) {
            if (piece.suffix == "-mockup-bar") continue;
            in += is_in(piece.plan, point * factor) ? 1 : 0;
            nearest_mm = std::min(nearest_mm, off_edge_mm(piece.plan, point * factor));
        }
        const bool is_right = is_cut ? in == 0 : in == 1 || (in == 0 && nearest_mm < settings.joint_gap_mm);
        ASSERT_TRUE(is_right) << point.x_mm << ", " << point.y_mm;
    }
}

TEST(MockupWebs, random_crowded_plates_are_made_whole) {
    plan::for_random_cases([] {
        const plan::Plan part = CrowdedPlate::any();
        const plan::Mockup settings = any_generous_settings();
        const MadeMockup made = mockup(part, settings);
        for (const MockupPiece& piece : made.pieces) {
            expect_printable(piece.plan);
            expect_marks_on_metal(piece.plan);
        }
        expect_nothing_lost(part, settings, made);
        RC_ASSERT(!::testing::Test::HasFailure());
    });
}

}  // namespace
}  // namespace fitup::parts
