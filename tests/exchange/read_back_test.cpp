// What the comparison of a re-read file tells: cones, overlaps, spigots, and the cause of a wrong file.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "exchange/make.hpp"
#include "plan/plates.hpp"

namespace fitup::exchange {
namespace {

using namespace plan::testing;
using plan::Plan;
using plan::Side;

const auto silent = [](std::string_view) {};

enum class Kind { step, stl };

Measurement measured(const Plan& plan, Kind kind) {
    Body body = examine(plan, silent);
    EXPECT_TRUE(body.findings.empty());
    mesh::Fineness fineness;
    fineness.chord_mm = 0.02;
    if (kind == Kind::stl) {
        const std::string bytes = mesh::stl_bytes(part_mesh(plan, body, fineness, silent), "test");
        return measure_bytes(bytes, "test.stl");
    }
    const auto solid = kernel().build(plan, body.skin).solid;
    return measure_bytes(kernel().step_text(*solid, plan, {}), "test.step");
}

/// Volumes are left to one side: walls and cones must be told by themselves.
Comparison compared(const Plan& wanted, const Measurement& found, double within_mm = 0.005) {
    Expectation expected = expectation(examine(wanted, silent), found.doubt_mm);
    expected.volume_tolerance_relative = 1.0;
    return compare(wanted, expected, found, within_mm);
}

std::vector<Row> wrong_rows(const Comparison& comparison) {
    std::vector<Row> rows;
    for (const Row& row : comparison.rows) {
        if (row.verdict != Verdict::same) rows.push_back(row);
    }
    return rows;
}

/// Two drill points and two countersinks.
Plan plate_with_cones() {
    Plan plan = disc(200, 20);
    add(plan, bore(60));
    add(plan, blind_hole("blind-1", {-75, 0}, 8.5, Side::B, 12));
    add(plan, blind_hole("blind-2", {0, -75}, 8.5, Side::A, 12));
    plan::Hole sunk = through_hole("sunk-1", {75, 0}, 9);
    sunk.countersink = plan::Countersink{Side::B, 15, Angle::from_degrees(90)};
    add(plan, sunk);
    sunk.id = "sunk-2";
    sunk.at_mm = {0, 75};
    sunk.recess = plan::Recess{Side::B, 18, 2, {}};
    sunk.countersink = plan::Countersink{Side::A, 15, Angle::from_degrees(82)};
    add(plan, sunk);
    return plan;
}

class Cones : public ::testing::TestWithParam<Kind> {};

TEST_P(Cones, of_the_plan_are_the_files) {
    const Comparison same = compared(plate_with_cones(), measured(plate_with_cones(), GetParam()));
    EXPECT_TRUE(wrong_rows(same).empty());
    const auto is_cone = [](const Row& row) {
        return row.expected.starts_with("point") || row.expected.starts_with("countersink");
    };
    EXPECT_EQ(std::count_if(same.rows.begin(), same.rows.end(), is_cone), 4);
}

TEST_P(Cones, a_wrong_one_is_told_by_itself) {
    const Measurement found = measured(plate_with_cones(), GetParam());
    struct Case {
        const char* id;
        void (*spoil)(plan::Hole&);
        Verdict verdict;
    };
    const Case cases[] = {
        {"blind-1", [](plan::Hole& hole) { hole.point_angle = Angle::from_degrees(120); }, Verdict::differs},
        {"sunk-1", [](plan::Hole& hole) { hole.countersink->angle = Angle::from_degrees(100); },
         Verdict::differs},
        {"sunk-2", [](plan::Hole& hole) { hole.countersink->diameter_mm += 0.1; }, Verdict::differs},
    };
    for (const Case& one : cases) {
        Plan wanted = plate_with_cones();
        for (plan::Hole& hole : wanted.holes) {
            if (hole.id == one.id) one.spoil(hole);
        }
        bool is_told = false;
        for (const Row& row : compared(wanted, found).rows) {
            const bool is_cone = row.found.starts_with("cone");
            is_told = is_told || (is_cone && row.what == one.id && row.verdict == one.verdict);
            if (row.what == one.id) continue;
            EXPECT_EQ(row.verdict, Verdict::same) << row.what << " " << row.expected;
        }
        EXPECT_TRUE(is_told) << one.id;
    }
}

TEST_P(Cones, a_flat_bottom_is_no_point_and_a_point_no_flat_bottom) {
    Plan flat = plate_with_cones();
    flat.holes[1].point_angle.reset();
    const std::vector<Row> missing = wrong_rows(compared(plate_with_cones(), measured(flat, GetParam())));
    ASSERT_EQ(missing.size(), 1u);
    EXPECT_EQ(missing[0].what, "blind-1");
    EXPECT_EQ(missing[0].verdict, Verdict::missing);
    const std::vector<Row> extra = wrong_rows(compared(flat, measured(plate_with_cones(), GetParam())));
    ASSERT_EQ(extra.size(), 1u);
    EXPECT_EQ(extra[0].what, "extra cone");
    EXPECT_EQ(extra[0].verdict, Verdict::extra);
}

/// Two points whose angles are changed so that the volume stays: one taller, the other shorter by as much.
TEST_P(Cones, wrong_ones_of_the_right_volume_are_told) {
    Plan wrong = plate_with_cones();
    const double height_mm = 4.25 / std::tan(59.0 * std::numbers::pi / 180.0);
    for (const int k : {1, 2}) {
        const double changed_mm = height_mm + (k == 1 ? 0.2 : -0.2);
        wrong.holes[static_cast<std::size_t>(k)].point_angle =
            Angle::from_radians(2.0 * std::atan(4.25 / changed_mm));
    }
    const Measurement found = measured(wrong, GetParam());
    const Plan wanted = plate_with_cones();
    Expectation expected = expectation(examine(wanted, silent), found.doubt_mm);
    const Comparison comparison = compare(wanted, expected, found, 0.005);
    const std::vector<Row> rows = wrong_rows(comparison);
    ASSERT_EQ(rows.size(), 2u);
    EXPECT_EQ(rows[0].what, "blind-1");
    EXPECT_EQ(rows[1].what, "blind-2");
    for (const Row& row : rows) EXPECT_NEAR(row.difference_mm, 0.2, 1e-4);
}

/// The kernel's mesh, made where cuts cross, has rings of corners between the ends of a cone.
TEST_P(Cones, are_found_whole_beside_cuts_that_cross) {
    Plan plan = plate_with_cones();
    add(plan, through_hole("crossed", {60, 60}, 10));
    plan.pockets.push_back(pocket("relief-1", Side::B, 8, {plan::Contour(plan::Circle{{68, 60}, 9}), {}}));
    ASSERT_FALSE(examine(plan, silent).skin.overlapping.empty());
    for (const Row& row : wrong_rows(compared(plan, measured(plan, GetParam()))))
        EXPECT_EQ(row.verdict, Verdict::unmeasured) << row.what << " " << row.expected << " " << row.found;
}

INSTANTIATE_TEST_SUITE_P(ReadBack, Cones, ::testing::Values(Kind::step, Kind::stl),
                         [](const auto& info) { return info.param == Kind::step ? "step" : "stl"; });

TEST(ReadBack, a_spigot_of_another_diameter_or_length_is_told) {
    Plan plan = disc(200, 20);
    add(plan, bore(40));
    plan.raised.push_back(
        {"spigot-A", Side::A, plan::Contour(plan::Circle{{}, 50}), {plan::Contour(plan::Circle{{}, 20})}, 5});
    for (const Kind kind : {Kind::step, Kind::stl}) {
        const Measurement found = measured(plan, kind);
        EXPECT_TRUE(wrong_rows(compared(plan, found)).empty());
        Plan wider = plan;
        wider.raised[0].outer = plan::Contour(plan::Circle{{}, 50.02});
        const std::vector<Row> rows = wrong_rows(compared(wider, found));
        ASSERT_EQ(rows.size(), 1u);
        EXPECT_EQ(rows[0].what, "spigot-A");
        EXPECT_EQ(rows[0].verdict, Verdict::resized);
    }
}

/// Reliefs, recesses and holes thrown on a plate, crossing each other as they like.
Plan crowded_plate(std::mt19937& random) {
    const auto from_to = [&random](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    Plan plan = disc(200, 24);
    add(plan, bore(40));
    for (int k = 0; k < 8; ++k) {
        const double angle = 0.785 * k + from_to(-0.1, 0.1);
        const double radius = from_to(48, 70);
        plan::Hole hole = through_hole("hole-" + std::to_string(k),
                                       {radius * std::cos(angle), radius * std::sin(angle)}, from_to(5, 11));
        if (k % 2 == 0)
            hole.recess = plan::Recess{Side::B, hole.diameter_mm + from_to(4, 16), from_to(2, 8), {}};
        if (k % 4 == 1)
            hole.countersink = plan::Countersink{Side::A, hole.diameter_mm + 5, Angle::from_degrees(90)};
        if (k % 4 == 3) hole = blind_hole(hole.id, hole.at_mm, hole.diameter_mm, Side::A, from_to(6, 12));
        add(plan, hole);
    }
    for (int k = 0; k < 3; ++k) {
        const plan::Point at{from_to(-70, 70), from_to(-70, 70)};
        const plan::Point to{at.x_mm + from_to(-30, 30), at.y_mm + from_to(-30, 30)};
        plan.pockets.push_back(pocket("relief-" + std::to_string(k), k % 2 == 0 ? Side::A : Side::B,
                                      from_to(1, 6), {plan::slot(at, to, from_to(8, 20)), {}}));
    }
    return plan;
}

TEST(ReadBack, every_wall_of_crowded_plates_is_found_with_its_exact_range) {
    constexpr unsigned seed = 90125;
    const int plates = std::max(10, FITUP_PROPERTY_CASES / 5);
    std::printf("seed %u, %d plates\n", seed, plates);
    std::mt19937 random(seed);
    int crossed = 0;
    for (int i = 0; i < plates; ++i) {
        const Plan plan = crowded_plate(random);
        Body body = examine(plan, silent);
        if (!body.findings.empty()) continue;
        if (!body.skin.overlapping.empty()) ++crossed;
        SCOPED_TRACE("plate " + std::to_string(i));
        const Measurement found =
            measure_bytes(kernel().step_text(*kernel().build(plan, body.skin).solid, plan, {}), "test.step");
        for (const Row& row : compared(plan, found, 1e-6).rows)
            EXPECT_EQ(row.verdict, Verdict::same)
                << row.what << " " << to_text(row.verdict) << ", " << row.expected << ", " << row.found;
        if (HasFailure()) return;
    }
    EXPECT_GT(crossed, plates / 2);
}

}  // namespace
}  // namespace fitup::exchange
