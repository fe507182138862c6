// Plans with modelled threads cut away: volumes and places by hand.
#include "plan/cut_threads.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "plan/rods.hpp"
#include "plan/skin.hpp"

namespace fitup::plan {
namespace {

using std::numbers::pi;

/// ISO 68-1: minor = major - 2 * 5/8 * sqrt(3)/2 * pitch.
double minor_mm(double major_mm, double pitch_mm) {
    return major_mm - 1.25 * std::sqrt(3.0) / 2.0 * pitch_mm;
}
double disc_mm2(double diameter_mm) { return pi * diameter_mm * diameter_mm / 4.0; }

Thread thread(double major, double pitch, double depth_mm, bool modelled = true) {
    Thread made;
    made.major_mm = major;
    made.pitch_mm = pitch;
    made.minor_mm = minor_mm(major, pitch);
    made.depth_mm = depth_mm;
    made.modelled = modelled;
    return made;
}

Hole tapped(Point at, double major, double pitch) {
    Hole hole;
    hole.id = "t";
    hole.kind = HoleKind::tapped;
    hole.at_mm = at;
    hole.thread = thread(major, pitch, 40.0);
    hole.diameter_mm = hole.thread->minor_mm;
    hole.depth_mm = 40.0;
    return hole;
}

/// M10, 20 deep, drilled 28 deep with a point of 118 degrees.
Hole blind() {
    Hole hole = tapped({20, 10}, 10, 1.5);
    hole.thread->depth_mm = 20.0;
    hole.through = false;
    hole.depth_mm = 28.0;
    hole.point_angle = Angle::from_degrees(118.0);
    return hole;
}

/// A round plate of 200 x 40 mm.
Plan plate(std::vector<Hole> holes) {
    Plan plan;
    plan.body.outline = Contour(Circle{{0, 0}, 100.0});
    plan.body.thickness_mm = 40.0;
    plan.holes = std::move(holes);
    return plan;
}

double removed_mm3(const Plan& plan) {
    const auto volume_mm3 = skin(plan).volume_mm3;
    EXPECT_TRUE(volume_mm3);
    return disc_mm2(200.0) * 40.0 - volume_mm3.value_or(0.0);
}

TEST(CutThreads, a_hole_right_through_gets_the_major_diameter) {
    const Plan real = plate({tapped({-30, 0}, 16, 2), tapped({30, 0}, 10, 1.5)});
    const Plan printed = with_threads_cut_away(real);
    EXPECT_NEAR(removed_mm3(printed), (disc_mm2(16.0) + disc_mm2(10.0)) * 40.0, 1e-6);
    EXPECT_FALSE(modelled_threads(printed).all());
    EXPECT_EQ(modelled_threads(real).holes, 2u);
}

TEST(CutThreads, a_blind_hole_keeps_its_tip) {
    const double slope = std::tan(59.0 * pi / 180.0), minor = minor_mm(10, 1.5);
    const double tip_mm = 28.0 + minor / 2.0 / slope;
    const double cone_mm = 5.0 / slope;
    const Plan printed = with_threads_cut_away(plate({blind()}));
    EXPECT_NEAR(printed.holes[0].depth_mm, tip_mm - cone_mm, 1e-12);
    EXPECT_NEAR(removed_mm3(printed), disc_mm2(10.0) * (tip_mm - cone_mm) + disc_mm2(10.0) * cone_mm / 3.0,
                1e-6);
    // An actual screw passes where there was thread.
    EXPECT_GT(printed.holes[0].depth_mm, 20.0);
}

TEST(CutThreads, a_flat_bottom_stays_where_it_is) {
    Hole flat = blind();
    flat.point_angle.reset();
    EXPECT_NEAR(removed_mm3(with_threads_cut_away(plate({flat}))), disc_mm2(10.0) * 28.0, 1e-6);
}

TEST(CutThreads, a_recess_stays_where_it_is_wider_and_goes_where_it_is_not) {
    Hole wide = tapped({0, 0}, 10, 1.5), narrow = wide;
    wide.recess = Recess{.side = Side::B, .diameter_mm = 18, .depth_mm = 5, .holds = {}};
    narrow.recess = Recess{.side = Side::B, .diameter_mm = 10, .depth_mm = 5, .holds = {}};
    EXPECT_NEAR(removed_mm3(with_threads_cut_away(plate({wide}))), disc_mm2(18) * 5 + disc_mm2(10) * 35,
                1e-6);
    EXPECT_NEAR(removed_mm3(with_threads_cut_away(plate({narrow}))), disc_mm2(10) * 40, 1e-6);
}

TEST(CutThreads, a_countersink_is_cut_off_by_the_wider_hole) {
    Hole hole = tapped({0, 0}, 10, 1.5);
    hole.thread->depth_mm = 20.0;
    hole.countersink = Countersink{Side::A, 16, Angle::from_degrees(90.0)};
    // A cone from 16 to 10 mm is 3 mm deep.
    const double cone_mm3 = pi / 3.0 * 3.0 * (64.0 + 40.0 + 25.0);
    EXPECT_NEAR(removed_mm3(with_threads_cut_away(plate({hole}))), cone_mm3 + disc_mm2(10) * 37, 1e-6);
}

TEST(CutThreads, what_is_not_modelled_stays_as_it_is) {
    Hole plain = tapped({20, 0}, 10, 1.5);
    plain.thread->modelled = false;
    plain.diameter_mm = 8.5;
    Hole drilled;
    drilled.at_mm = {-20, 0};
    drilled.diameter_mm = 9.0;
    drilled.depth_mm = 40.0;
    EXPECT_NEAR(removed_mm3(with_threads_cut_away(plate({plain, drilled}))),
                (disc_mm2(8.5) + disc_mm2(9)) * 40.0, 1e-6);
}

RodEnd threaded_end(double major, double pitch, double length_mm) {
    return {.diameter_mm = major,
            .length_mm = length_mm,
            .thread = thread(major, pitch, length_mm),
            .thread_modelled = true};
}

Plan rod_plan(double diameter_mm, double length_mm, RodEnd first, RodEnd last) {
    Plan plan;
    plan.rod = testing::bare_rod(diameter_mm, 0.0, {{0, 0, 0}, {length_mm, 0, 0}});
    plan.rod->ends = {std::move(first), std::move(last)};
    return plan;
}

double printed_mm3(const Plan& plan) {
    const Rod rod = *with_threads_cut_away(plan).rod;
    EXPECT_FALSE(has_modelled_thread(rod));
    return rod_figures(rod, rod_path(rod)).volume_mm3;
}

TEST(CutThreads, a_rods_ends_are_turned_down_over_thread_and_run_out) {
    const Plan real = rod_plan(8, 100, threaded_end(8, 1.25, 25), threaded_end(6, 1, 20));
    EXPECT_EQ(modelled_threads(real).rod_ends, 2u);
    const double first_mm = 26.25, last_mm = 21.0;
    EXPECT_NEAR(printed_mm3(real),
                disc_mm2(minor_mm(8, 1.25)) * first_mm + disc_mm2(minor_mm(6, 1)) * last_mm +
                    disc_mm2(8) * (100 - first_mm - last_mm),
                1e-9);
    const Rod printed = *with_threads_cut_away(real).rod;
    ASSERT_EQ(end_steps(printed, 0).size(), 2u) << "a cylinder and a shoulder, no chamfer";
    EXPECT_NEAR(face_radius_mm(printed, 0), minor_mm(8, 1.25) / 2.0, 1e-12);
}

TEST(CutThreads, an_end_that_is_not_modelled_stays) {
    RodEnd plain{.diameter_mm = 8, .length_mm = 20, .thread = thread(8, 1.25, 20, false)};
    plain.chamfer_mm = 1.0;
    const double chamfer_mm3 = pi / 3.0 * (16.0 + 12.0 + 9.0);
    EXPECT_NEAR(printed_mm3(rod_plan(8, 100, threaded_end(8, 1.25, 25), plain)),
                disc_mm2(minor_mm(8, 1.25)) * 26.25 + disc_mm2(8) * (100 - 26.25 - 1) + chamfer_mm3, 1e-9);
}

/// Threads that leave no shank leave no ring of no length either.
TEST(CutThreads, a_rod_threaded_all_along_is_plain_all_along) {
    const Plan same = rod_plan(8, 52.5, threaded_end(8, 1.25, 25), threaded_end(8, 1.25, 25));
    EXPECT_NEAR(printed_mm3(same), disc_mm2(minor_mm(8, 1.25)) * 52.5, 1e-9);
    EXPECT_TRUE(end_steps(*with_threads_cut_away(same).rod, 0).empty());
    const Plan one = rod_plan(8, 26.25, threaded_end(8, 1.25, 25), {.diameter_mm = 8, .thread = {}});
    EXPECT_NEAR(printed_mm3(one), disc_mm2(minor_mm(8, 1.25)) * 26.25, 1e-9);
    const Plan fine = rod_plan(8, 52.25, threaded_end(8, 1.25, 25), threaded_end(8, 1, 25));
    EXPECT_NEAR(printed_mm3(fine), disc_mm2(minor_mm(8, 1.25)) * 26.25 + disc_mm2(minor_mm(8, 1)) * 26.0,
                1e-9);
}

TEST(CutThreads, a_chamfer_that_the_thread_runs_up_to_keeps_its_cone) {
    RodEnd chamfered{.diameter_mm = 8, .thread = {}};
    chamfered.chamfer_mm = 1.5;
    const double core = minor_mm(8, 1.25) / 2.0, face = 4.0 - 1.5, cone_mm = core - face;
    EXPECT_NEAR(
        printed_mm3(rod_plan(8, 27.75, threaded_end(8, 1.25, 25), chamfered)),
        pi * core * core * (27.75 - cone_mm) + pi / 3.0 * cone_mm * (core * core + core * face + face * face),
        1e-9);
}

/// Of any rod, bent ones too: what goes is what the threads hold beyond their cores.
TEST(CutThreads, of_any_rod_takes_the_ridges_alone) {
    EXPECT_TRUE(rc::check("ridges", [] {
        Plan plan;
        plan.rod = testing::any_rod();
        const double pitch = testing::any_number(0.3, 1.25) * plan.rod->diameter_mm / 8.0;
        const double major = plan.rod->diameter_mm * testing::any_number(0.7, 1.0);
        // Every end's own straight is 40 mm or more.
        plan.rod->ends[0] = threaded_end(major, pitch, 20);
        plan.rod->ends[1] = threaded_end(plan.rod->diameter_mm, pitch, testing::any_number(3, 16));
        double ridges_mm3 = 0.0;
        for (const std::size_t end : {std::size_t{0}, std::size_t{1}}) {
            const ThreadedLength of = *modelled_thread(*plan.rod, end);
            ridges_mm3 += of.enclosed_mm3() - disc_mm2(2.0 * of.form.minor_radius_mm()) * of.end_mm();
        }
        RC_ASSERT(ridges_mm3 > 0.0);
        const double real_mm3 = rod_figures(*plan.rod, rod_path(*plan.rod)).volume_mm3;
        RC_ASSERT(std::abs(real_mm3 - ridges_mm3 - printed_mm3(plan)) < 1e-9 * real_mm3);
    }));
}

}  // namespace
}  // namespace fitup::plan
