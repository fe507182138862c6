#include "plan/joggle.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "plan/prism_sum.hpp"
#include "plan/stroke.hpp"
#include "property.hpp"

namespace fitup::plan {
namespace {

Joggle joggle(double rise_mm, double run_mm, double radius_mm, double k = 0.42, double start_mm = 27.0) {
    return {rise_mm, start_mm, run_mm, radius_mm, k};
}

double square(double value) { return value * value; }

// Worked out by hand and held against a setback table (tan(A / 2) of AC 43.13-1B) in the trade's practice:
// t 6, r 6, H 9, L 24, K 0.42.
TEST(Joggle, the_worked_example_comes_out) {
    const auto shape = joggle_shape(joggle(9, 24, 6), 6);
    ASSERT_TRUE(shape);
    EXPECT_NEAR(shape->bend.degrees(), 24.0515, 5e-5);
    EXPECT_NEAR(shape->straight_mm, 18.2483, 5e-5);
    EXPECT_NEAR(shape->developed_mm, 25.4013, 5e-5);
    EXPECT_NEAR(shape->allowance_mm + shape->straight_mm, 21.8248, 5e-5);
    EXPECT_NEAR(joggle_shape(joggle(9, 24, 6, 0.33), 6)->developed_mm, 24.948, 5e-4);
    EXPECT_NEAR(joggle_shape(joggle(9, 24, 6, 0.50), 6)->developed_mm, 25.804, 5e-4);
    EXPECT_NEAR(joggle_limits(joggle(9, 24, 6), 6).least_run_mm, 15.588, 5e-4);
    EXPECT_EQ(joggle_shape(joggle(-9, 24, 6), 6)->bend, shape->bend) << "down is up turned over";
}

// Pipe bending rule of the trade, bends without radius: between the marks H / sin A; 15 in at 25 deg: 35.5
// in.
TEST(Joggle, without_radius_the_straight_is_the_rise_over_the_sine) {
    const double run_in = 15.0 / std::tan(25.0 * std::numbers::pi / 180.0);
    const auto shape = joggle_shape(joggle(15, run_in, 0), 0);
    ASSERT_TRUE(shape);
    EXPECT_NEAR(shape->bend.degrees(), 25.0, 1e-9);
    EXPECT_NEAR(shape->straight_mm, 35.5, 0.05);
}

// AC 43.13-1B, setback tan(A / 2)(r + t): the bent piece is shorter than its mould lines by that.
TEST(Joggle, the_outside_faces_meet_at_the_mould_line) {
    const auto shape = joggle_shape(joggle(9, 24, 6), 6);
    const double setback_mm = std::tan(shape->bend.radians() / 2.0) * 12.0;
    const JoggleProfile side = joggle_profile(joggle(9, 24, 6), 6, *shape);
    const double sine = shape->bend.sin(), cosine = shape->bend.cos();
    EXPECT_NEAR(side.lower[1].x_mm, 27.0 + setback_mm + setback_mm * cosine, 1e-12);
    EXPECT_NEAR(side.lower[1].y_mm, setback_mm * sine, 1e-12);
}

TEST(Joggle, a_quarter_turn_is_the_most) {
    // R 9: with a run of two radii, 18, both bends are quarter turns and the rise beyond 18 is straight.
    const auto shape = joggle_shape(joggle(30, 18, 6), 6);
    ASSERT_TRUE(shape);
    EXPECT_NEAR(shape->bend.degrees(), 90.0, 1e-9);
    EXPECT_NEAR(shape->straight_mm, 12.0, 1e-9);
    EXPECT_FALSE(joggle_shape(joggle(30, 17.999, 6), 6));
    EXPECT_FALSE(joggle_limits(joggle(30, 18, 6), 6).most_rise_mm) << "any rise goes";
}

TEST(Joggle, limits_are_where_it_stops_being_possible) {
    for_random_cases([] {
        const auto number = [](int least, int most) {
            return *rc::gen::inRange(least * 100, most * 100) / 100.0;
        };
        const Joggle wanted = joggle(number(1, 40), number(1, 60), number(1, 20));
        const double thickness_mm = number(1, 12);
        const JoggleLimits limits = joggle_limits(wanted, thickness_mm);
        const auto is_possible = [&](double rise_mm, double run_mm, double radius_mm) {
            return joggle_shape(joggle(rise_mm, run_mm, radius_mm), thickness_mm).has_value();
        };
        const double run_mm = limits.least_run_mm;
        RC_ASSERT(is_possible(wanted.rise_mm, run_mm + 1e-6, wanted.inside_radius_mm));
        RC_ASSERT(!is_possible(wanted.rise_mm, run_mm - 1e-6, wanted.inside_radius_mm));
        if (limits.most_rise_mm) {
            RC_ASSERT(is_possible(*limits.most_rise_mm - 1e-6, wanted.run_mm, wanted.inside_radius_mm));
            RC_ASSERT(!is_possible(*limits.most_rise_mm + 1e-6, wanted.run_mm, wanted.inside_radius_mm));
        }
        if (limits.most_inside_radius_mm) {
            RC_ASSERT(is_possible(wanted.rise_mm, wanted.run_mm, *limits.most_inside_radius_mm - 1e-6));
            RC_ASSERT(!is_possible(wanted.rise_mm, wanted.run_mm, *limits.most_inside_radius_mm + 1e-6));
        }
    });
}

/// The side view is tangent everywhere: it closes on rise and run, and its outline's area is the mid-line's
/// length times the thickness (Pappus).
TEST(Joggle, the_profile_closes_and_has_the_area_of_its_mid_line) {
    for_random_cases([] {
        const auto number = [](int least, int most) {
            return *rc::gen::inRange(least * 100, most * 100) / 100.0;
        };
        const double thickness_mm = number(1, 12);
        Joggle bent = joggle(number(1, 40), 0, number(1, 20));
        bent.run_mm = joggle_limits(bent, thickness_mm).least_run_mm + number(0, 30);
        if (*rc::gen::arbitrary<bool>()) bent.rise_mm = -bent.rise_mm;
        const auto shape = joggle_shape(bent, thickness_mm);
        RC_ASSERT(shape.has_value());
        const JoggleProfile side = joggle_profile(bent, thickness_mm, *shape);
        RC_ASSERT(std::abs(side.lower[3].y_mm - bent.rise_mm) < 1e-12);
        RC_ASSERT(std::abs(distance_mm(side.lower[1], side.lower[2]) - shape->straight_mm) < 1e-6);
        RC_ASSERT(std::abs(distance_mm(side.upper[1], side.upper[2]) - shape->straight_mm) < 1e-6);
        // Across the straight the faces are one thickness apart.
        RC_ASSERT(std::abs(distance_mm(side.lower[1], side.upper[1]) - thickness_mm) < 1e-9);
        const bool is_up = bent.rise_mm > 0;
        const Turn first = is_up ? Turn::anticlockwise : Turn::clockwise;
        const Turn second = is_up ? Turn::clockwise : Turn::anticlockwise;
        const auto back = [](Turn turn) {
            return turn == Turn::clockwise ? Turn::anticlockwise : Turn::clockwise;
        };
        double twice_mm2 = 0.0;
        const auto add = [&](const Stroke& stroke) { twice_mm2 += twice_swept_area_mm2(stroke, {}); };
        add(arc_stroke(side.lower[0], side.lower[1], side.centre[0], first));
        add(line_stroke(side.lower[1], side.lower[2]));
        add(arc_stroke(side.lower[2], side.lower[3], side.centre[1], second));
        add(line_stroke(side.lower[3], side.upper[3]));
        add(arc_stroke(side.upper[3], side.upper[2], side.centre[1], back(second)));
        add(line_stroke(side.upper[2], side.upper[1]));
        add(arc_stroke(side.upper[1], side.upper[0], side.centre[0], back(first)));
        add(line_stroke(side.upper[0], side.lower[0]));
        RC_ASSERT(std::abs(twice_mm2 / 2.0 / (shape->mid_line_mm * thickness_mm) - 1.0) < 1e-9);
    });
}

/// A strip 22 wide and 6 thick, 86 long, with a hole of 12 at each end.
Plan strip() {
    Plan plan;
    plan.body.outline = slot({0, 0}, {86, 0}, 22);
    plan.body.thickness_mm = 6;
    plan.body.joggle = joggle(9, 24, 6);
    Hole hole;
    hole.diameter_mm = 12;
    hole.depth_mm = 6;
    hole.id = "pivot";
    plan.holes.push_back(hole);
    hole.id = "eye";
    hole.at_mm = {86, 0};
    plan.holes.push_back(hole);
    return plan;
}

TEST(JoggledSlab, volume_is_width_times_thickness_times_the_mid_line) {
    const Plan plan = strip();
    const double radius_mm = 9.0;
    const double angle = 24.0515 * std::numbers::pi / 180.0;
    // Bare: two half discs and the strip's mid-line, 27 + 35 straight and the joggle.
    const double mid_line_mm = 27.0 + 35.0 + 18.2483 + 2.0 * radius_mm * angle;
    const double by_hand_mm3 =
        22.0 * 6.0 * mid_line_mm + std::numbers::pi * (square(11) - 2.0 * square(6)) * 6.0;
    // The worked example has six figures.
    EXPECT_NEAR(*slab_volume_mm3(plan), by_hand_mm3, 0.03);
}

TEST(JoggledSlab, legs_are_the_outline_cut_at_the_bends) {
    const auto both = legs(strip());
    ASSERT_TRUE(both);
    const auto& [first, second] = *both;
    const double half_disc = std::numbers::pi * square(11) / 2.0;
    EXPECT_NEAR(first.body.outline.area_mm2(), half_disc + 27.0 * 22.0, 1e-9);
    EXPECT_NEAR(second.body.outline.area_mm2(), half_disc + 35.0 * 22.0, 1e-9);
    ASSERT_EQ(first.holes.size(), 1u);
    ASSERT_EQ(second.holes.size(), 1u);
    EXPECT_EQ(first.holes[0].id, "pivot");
    EXPECT_EQ(second.holes[0].id, "eye");
    EXPECT_TRUE(is_prism(first) && is_prism(second));
}

TEST(JoggledSlab, a_hole_that_reaches_into_the_joggle_leaves_no_legs) {
    Plan plan = strip();
    plan.holes[1].at_mm.x_mm = 56.9;
    EXPECT_FALSE(legs(plan));
    plan.holes[1].at_mm.x_mm = 57.0;
    EXPECT_TRUE(legs(plan)) << "it touches the bend's end";
}

TEST(JoggledSlab, the_start_may_be_where_the_round_end_begins) {
    Plan plan = strip();
    plan.holes.clear();
    plan.body.joggle->start_mm = 0.0;
    const auto both = legs(plan);
    ASSERT_TRUE(both);
    EXPECT_NEAR((*both)[0].body.outline.area_mm2(), std::numbers::pi * square(11) / 2.0, 1e-9);
    plan.body.joggle->start_mm = -0.001;
    EXPECT_FALSE(legs(plan)) << "the round end reaches into the bend";
}

TEST(JoggledSlab, the_flat_blank_has_its_holes_where_they_must_be_drilled) {
    const auto blank = flat_blank(strip());
    ASSERT_TRUE(blank);
    EXPECT_TRUE(is_prism(blank->plan));
    ASSERT_EQ(blank->plan.holes.size(), 2u);
    EXPECT_EQ(blank->plan.holes[0].at_mm.x_mm, 0.0);
    EXPECT_NEAR(blank->plan.holes[1].at_mm.x_mm, 86.0 - 24.0 + 25.4013, 5e-5);
    ASSERT_EQ(blank->bends_mm.size(), 2u);
    EXPECT_NEAR(blank->bends_mm[1][0] - blank->bends_mm[0][0], 21.8248, 5e-5);
    const double developed_mm = blank->plan.holes[1].at_mm.x_mm;
    EXPECT_NEAR(blank->plan.body.outline.area_mm2(), std::numbers::pi * square(11) + developed_mm * 22.0,
                1e-9);
}

TEST(JoggledSlab, a_flat_part_is_its_own_blank) {
    Plan plan = strip();
    plan.body.joggle.reset();
    const auto blank = flat_blank(plan);
    ASSERT_TRUE(blank);
    EXPECT_TRUE(blank->bends_mm.empty());
    EXPECT_EQ(blank->plan.holes[1].at_mm.x_mm, 86.0);
}

}  // namespace
}  // namespace fitup::plan
