#include "parts/layout.hpp"

#include <cmath>
#include <fstream>
#include <numbers>
#include <sstream>

#include "base/text.hpp"
#include "parts/plates.hpp"

namespace fitup::parts {
namespace {

using namespace testing;
using plan::Point;
using plan::Side;

/// Positions are held to 1e-6 mm; these come from a sine and a product and must be far nearer.
constexpr double exact_mm = 1e-9;

std::vector<std::vector<std::string>> rows_of(const std::string& file) {
    std::ifstream stream(std::string(FITUP_SOURCE_FOLDER) + "/tests/trade/reference/" + file);
    std::vector<std::vector<std::string>> rows;
    for (std::string line; std::getline(stream, line);) {
        if (line.empty() || line[0] == '#' || line.find("hole_count") == 0) continue;
        std::vector<std::string> cells;
        std::istringstream cell_stream(line);
        for (std::string cell; std::getline(cell_stream, cell, ',');) cells.push_back(cell);
        rows.push_back(cells);
    }
    return rows;
}

std::vector<NumberedPlace> circle(double diameter_mm, int count, double start_deg) {
    return places({CircleLayout{diameter_mm, count, Angle::from_degrees(start_deg), {}}, {}, {}}, Side::B);
}

void expect_at(Point point, double x_mm, double y_mm, double within_mm = exact_mm) {
    EXPECT_NEAR(point.x_mm, x_mm, within_mm);
    EXPECT_NEAR(point.y_mm, y_mm, within_mm);
}

// chord_factors.csv: a published spacing table (factor times pitch circle diameter), four decimals; rows that
// its own page misprints say "no".
TEST(Layout, neighbours_on_a_circle_are_a_published_chord_apart) {
    constexpr double printed_to = 0.00012;  // half the last digit, and the slips that the table's note allows
    int checked = 0;
    for (const auto& row : rows_of("chord_factors.csv")) {
        if (row.at(3) != "yes") continue;
        const int count = std::stoi(row.at(0));
        const auto holes = circle(1000.0, count, 17.0);
        const double factor = plan::distance_mm(holes[0].at_mm, holes[1].at_mm) / 1000.0;
        EXPECT_NEAR(factor, *parse_number(row.at(1)), printed_to) << count << " holes";
        ++checked;
    }
    EXPECT_GE(checked, 25);
}

// bolt_circle_coordinates.csv: layout of Machinery's Handbook's jig boring tables, type A (first hole at the
// top, numbered anticlockwise, y downwards), five decimals.
TEST(Layout, holes_on_a_circle_lie_where_the_jig_boring_table_has_them) {
    constexpr double printed_to = 0.6e-5;
    int checked = 0;
    for (const auto& row : rows_of("bolt_circle_coordinates.csv")) {
        const int count = std::stoi(row.at(0));
        const auto hole = circle(1.0, count, 90.0).at(static_cast<std::size_t>(std::stoi(row.at(1)) - 1));
        expect_at(hole.at_mm, *parse_number(row.at(4)), -*parse_number(row.at(5)), printed_to);
        ++checked;
    }
    EXPECT_EQ(checked, 26) << "rows of the table";
}

// Worked example of a published article on those tables: 3 holes on a 4 in circle, first at the top, from the
// tangent lines at the left and at the top (2.000, 0), (0.268, 3.000), (3.732, 3.000).
TEST(Layout, three_holes_on_four_inches_match_the_published_example) {
    const auto holes = circle(4.0, 3, 90.0);
    const double expected[3][2] = {{2.0, 0.0}, {0.268, 3.0}, {3.732, 3.0}};
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_NEAR(holes[i].at_mm.x_mm + 2.0, expected[i][0], 5e-4);
        EXPECT_NEAR(2.0 - holes[i].at_mm.y_mm, expected[i][1], 5e-4);
    }
}

TEST(Layout, holes_on_an_axis_have_a_coordinate_of_exactly_zero) {
    const auto holes = circle(381.0, 4, 0.0);
    EXPECT_EQ(holes[0].at_mm, (Point{190.5, 0.0}));
    EXPECT_EQ(holes[1].at_mm, (Point{0.0, 190.5}));
    EXPECT_EQ(holes[2].at_mm, (Point{-190.5, 0.0}));
    EXPECT_EQ(holes[3].at_mm, (Point{0.0, -190.5}));
}

TEST(Layout, skipped_ordinals_leave_gaps) {
    const plan::Plan plan = plan_with(pattern(R"("circle": {"diameter": 200, "count": 4, "skip": [2, 4]})",
                                              R"({"kind": "drilled", "diameter": 8})"));
    ASSERT_EQ(plan.holes.size(), 2u);
    EXPECT_EQ(plan.holes[0].id, "p-1");
    EXPECT_EQ(plan.holes[1].id, "p-3");
    expect_at(plan.holes[1].at_mm, -100.0, 0.0);
}

TEST(Layout, hours_run_clockwise_from_the_top) {
    const auto holes = places({ClockLayout{200.0, {12, 3, 6, 9, 1.5, 0}}, {}, {}}, Side::B);
    expect_at(holes[0].at_mm, 0.0, 100.0);
    expect_at(holes[1].at_mm, 100.0, 0.0);
    expect_at(holes[2].at_mm, 0.0, -100.0);
    expect_at(holes[3].at_mm, -100.0, 0.0);
    expect_at(holes[4].at_mm, 100.0 / std::numbers::sqrt2, 100.0 / std::numbers::sqrt2);
    expect_at(holes[5].at_mm, 0.0, 100.0);
}

TEST(Layout, hours_seen_from_a_run_the_other_way_in_the_plates_frame) {
    const auto holes = places({ClockLayout{200.0, {3}}, {}, {}}, Side::A);
    expect_at(holes[0].at_mm, -100.0, 0.0);
}

TEST(Layout, places_are_turned_then_shifted_then_mirrored) {
    const Layout layout{PointsLayout{{{10.0, 0.0}}}, Angle::from_degrees(90.0), {1.0, 2.0}};
    expect_at(places(layout, Side::B)[0].at_mm, 1.0, 12.0);
    expect_at(places(layout, Side::A)[0].at_mm, -1.0, 12.0);
}

TEST(Layout, turning_a_circle_is_starting_it_later) {
    const Layout turned{CircleLayout{381.0, 12, Angle::from_degrees(15.0), {}}, Angle::from_degrees(7.5), {}};
    const auto started = circle(381.0, 12, 22.5);
    const auto holes = places(turned, Side::B);
    for (std::size_t i = 0; i < 12; ++i) {
        expect_at(holes[i].at_mm, started[i].at_mm.x_mm, started[i].at_mm.y_mm);
    }
}

TEST(Layout, a_mirror_in_x_is_never_minus_zero) {
    const auto holes = places({PointsLayout{{{0.0, 5.0}}}, {}, {}}, Side::A);
    EXPECT_FALSE(std::signbit(holes[0].at_mm.x_mm));
}

TEST(Layout, measured_on_one_casting_is_seen_from_the_other_side) {
    const std::string points = R"("points": [[88.2, 41], [-92.5, 30.1]], "rotate": 20, "shift": [3, 4])";
    const std::string hole = R"({"kind": "drilled", "diameter": 8})";
    for (const auto& [measured, seen] : {std::pair{"B", "A"}, std::pair{"A", "B"}}) {
        const auto measured_plan =
            plan_with(pattern(points, hole, R"("measured_on": ")" + std::string(measured) + "\""));
        const auto seen_plan =
            plan_with(pattern(points, hole, R"("seen_from": ")" + std::string(seen) + "\""));
        ASSERT_EQ(measured_plan.holes.size(), 2u);
        for (std::size_t i = 0; i < 2; ++i) {
            EXPECT_EQ(measured_plan.holes[i].at_mm, seen_plan.holes[i].at_mm);
        }
        EXPECT_EQ(measured_plan.patterns[0].seen_from, seen_plan.patterns[0].seen_from);
        EXPECT_TRUE(measured_plan.patterns[0].measured_on);
        EXPECT_FALSE(seen_plan.patterns[0].measured_on);
    }
}

TEST(Layout, seen_from_a_is_seen_from_b_mirrored) {
    const std::string points = R"("points": [[88.2, 41], [-92.5, 30.1]])";
    const std::string hole = R"({"kind": "drilled", "diameter": 8})";
    const auto from_b = plan_with(pattern(points, hole));
    const auto from_a = plan_with(pattern(points, hole, R"("seen_from": "A")"));
    for (std::size_t i = 0; i < 2; ++i) {
        expect_at(from_a.holes[i].at_mm, -from_b.holes[i].at_mm.x_mm, from_b.holes[i].at_mm.y_mm);
    }
}

TEST(Layout, a_pattern_keeps_its_line_and_circle) {
    const auto plan = plan_with(
        pattern(R"("circle": {"diameter": 200, "count": 4})", R"({"kind": "drilled", "diameter": 8})"));
    ASSERT_EQ(plan.patterns.size(), 1u);
    EXPECT_EQ(plan.patterns[0].line, 3);
    EXPECT_EQ(plan.patterns[0].circle_diameter_mm, 200.0);
    EXPECT_EQ(plan.patterns[0].holes, (std::vector<std::size_t>{0, 1, 2, 3}));
}

}  // namespace
}  // namespace fitup::parts
