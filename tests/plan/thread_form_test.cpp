#include "plan/thread_form.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fitup::plan {
namespace {

using std::numbers::pi;

constexpr double mm_per_inch = 25.4;
constexpr ThreadProfile all_profiles[] = {ThreadProfile::iso_and_unified, ThreadProfile::whitworth,
                                          ThreadProfile::british_association};

/// Standards state limits to a micrometre (metric) or 0.0001 in: half of the last digit.
constexpr double metric_digit_mm = 0.0005;
constexpr double inch_digit_mm = 0.00005 * mm_per_inch;
/// Factors are stated to six decimals.
constexpr double factor_digit = 0.5e-6;

/// ISO 724 basic dimensions (from memory): pitch and minor diameter.
TEST(ThreadForm, metric_diameters_are_those_of_the_standard) {
    const struct {
        double d, p, d2, d1;
    } rows[] = {{3, 0.5, 2.675, 2.459},   {6, 1, 5.350, 4.917},      {10, 1.5, 9.026, 8.376},
                {10, 1.25, 9.188, 8.647}, {20, 2.5, 18.376, 17.294}, {36, 4, 33.402, 31.670}};
    for (const auto& row : rows) {
        const ThreadForm form = thread_form(ThreadProfile::iso_and_unified, row.d, row.p);
        EXPECT_NEAR(form.pitch_diameter_mm(), row.d2, metric_digit_mm) << row.d;
        EXPECT_NEAR(2.0 * form.minor_radius_mm(), row.d1, metric_digit_mm) << row.d;
    }
}

/// ASME B1.1 table of basic dimensions (from memory): 1/4-28 UNF 0.2268 and 0.2113 in, 1/4-20 UNC 0.2175 and
/// 0.1959 in.
TEST(ThreadForm, unified_diameters_are_those_of_the_standard) {
    const ThreadForm fine = thread_form(ThreadProfile::iso_and_unified, 0.25 * mm_per_inch, mm_per_inch / 28);
    EXPECT_NEAR(fine.pitch_diameter_mm(), 0.2268 * mm_per_inch, inch_digit_mm);
    EXPECT_NEAR(2.0 * fine.minor_radius_mm(), 0.2113 * mm_per_inch, inch_digit_mm);
    const ThreadForm coarse =
        thread_form(ThreadProfile::iso_and_unified, 0.25 * mm_per_inch, mm_per_inch / 20);
    EXPECT_NEAR(coarse.pitch_diameter_mm(), 0.2175 * mm_per_inch, inch_digit_mm);
    EXPECT_NEAR(2.0 * coarse.minor_radius_mm(), 0.1959 * mm_per_inch, inch_digit_mm);
}

/// BS 84 (from memory): h = 0.640327 P, r = 0.137329 P; 1/4 BSW: 0.2180 and 0.1860 in.
TEST(ThreadForm, whitworth_depth_and_rounding_are_those_of_the_standard) {
    const ThreadForm form = thread_form(ThreadProfile::whitworth, 10.0, 1.0);
    EXPECT_NEAR(form.depth_mm, 0.640327, factor_digit);
    EXPECT_NEAR(form.rounding_mm, 0.137329, factor_digit);
    const ThreadForm quarter = thread_form(ThreadProfile::whitworth, 0.25 * mm_per_inch, mm_per_inch / 20);
    EXPECT_NEAR(quarter.pitch_diameter_mm(), 0.2180 * mm_per_inch, inch_digit_mm);
    EXPECT_NEAR(2.0 * quarter.minor_radius_mm(), 0.1860 * mm_per_inch, inch_digit_mm);
}

/// BS 93 (from memory): h = 0.6 P, r = 0.1808346 P; 0 BA (6 mm, pitch 1): 5.40 and 4.80 mm.
TEST(ThreadForm, british_association_is_rounded_as_the_standard_says) {
    const ThreadForm form = thread_form(ThreadProfile::british_association, 6.0, 1.0);
    EXPECT_NEAR(form.rounding_mm, 0.18083, 1e-5);
    EXPECT_NEAR(form.pitch_diameter_mm(), 5.4, 1e-12);
    EXPECT_NEAR(2.0 * form.minor_radius_mm(), 4.8, 1e-12);
}

TEST(ThreadForm, profile_runs_from_minor_to_major_without_a_step) {
    for (const ThreadProfile profile : all_profiles) {
        const ThreadForm form = thread_form(profile, 12.0, 1.75);
        EXPECT_NEAR(form.radius_mm(0.0), form.minor_radius_mm(), 1e-13);
        EXPECT_NEAR(form.radius_mm(0.5 * 1.75), form.major_radius_mm(), 1e-13);
        EXPECT_NEAR(form.radius_mm(0.3), form.radius_mm(0.3 + 7 * 1.75), 1e-12);
        EXPECT_NEAR(form.radius_mm(0.3), form.radius_mm(-0.3), 1e-12);
        for (std::size_t k = 0; k < 4; ++k) {
            const ProfilePiece& piece = form.pieces[k];
            const ProfilePiece& next = form.pieces[(k + 1) % 4];
            EXPECT_NEAR(piece.radius_mm(piece.to_mm), next.radius_mm(next.from_mm), 1e-13);
        }
        EXPECT_NEAR(form.pieces[3].to_mm, form.pieces[0].from_mm + 1.75, 1e-13);
    }
}

TEST(ThreadForm, round_pieces_are_tangent_to_the_flanks) {
    for (const ThreadProfile profile : {ThreadProfile::whitworth, ThreadProfile::british_association}) {
        const ThreadForm form = thread_form(profile, 12.0, 2.0);
        const double slope = 1.0 / form.half_angle.tan();
        const double step_mm = 1e-6;
        const double end_mm = form.pieces[0].to_mm;
        EXPECT_NEAR((form.radius_mm(end_mm) - form.radius_mm(end_mm - step_mm)) / step_mm, slope, 1e-4);
        EXPECT_NEAR((form.radius_mm(end_mm + step_mm) - form.radius_mm(end_mm)) / step_mm, slope, 1e-4);
    }
}

/// The surface itself: profile, moved by the turn, cut by the cones of its ends or fading out.
double surface_mm(const ThreadedLength& of, double turn, double z_mm) {
    const ThreadForm& form = of.form;
    const double profile = form.radius_mm(z_mm - form.pitch_mm * turn);
    const double left_mm = of.end_mm() - z_mm;
    if (of.finish == ThreadEnd::run_out && left_mm < form.pitch_mm)
        return std::lerp(of.finish_radius_mm(), profile, left_mm / form.pitch_mm);
    const double from_end_mm = of.finish == ThreadEnd::run_out ? z_mm : std::min(z_mm, left_mm);
    return of.side == ThreadSide::external ? std::min(profile, form.minor_radius_mm() + from_end_mm)
                                           : std::max(profile, form.major_radius_mm() - from_end_mm);
}

double integrated_mm3(const ThreadedLength& of) {
    constexpr int turns = 400;
    constexpr int heights = 8000;
    double sum = 0.0;
    for (int k = 0; k < turns; ++k) {
        for (int i = 0; i < heights; ++i) {
            const double radius = surface_mm(of, (k + 0.5) / turns, (i + 0.5) / heights * of.end_mm());
            sum += radius * radius;
        }
    }
    return sum * pi / turns / heights * of.end_mm();
}

/// Midpoint sums of a piecewise smooth surface: the error falls with the square of the step, about 1e-7 here.
constexpr double midpoint_relative = 1e-6;

TEST(ThreadedLength, volume_is_the_integral_of_the_surface) {
    for (const ThreadProfile profile : all_profiles) {
        for (const ThreadSide side : {ThreadSide::external, ThreadSide::internal}) {
            for (const ThreadEnd finish : {ThreadEnd::chamfer, ThreadEnd::run_out}) {
                const ThreadedLength of{thread_form(profile, 8.0, 1.25), side, Hand::right, 4.0, finish};
                EXPECT_NEAR(of.enclosed_mm3() / integrated_mm3(of), 1.0, midpoint_relative)
                    << static_cast<int>(profile) << static_cast<int>(side) << static_cast<int>(finish);
            }
        }
    }
}

TEST(ThreadedLength, ends_at_the_diameters_that_join_what_follows) {
    ThreadedLength of{thread_form(ThreadProfile::iso_and_unified, 8.0, 1.25), ThreadSide::external,
                      Hand::right, 10.0, ThreadEnd::run_out};
    EXPECT_DOUBLE_EQ(of.start_radius_mm(), of.form.minor_radius_mm());
    EXPECT_DOUBLE_EQ(of.finish_radius_mm(), 4.0);
    EXPECT_DOUBLE_EQ(of.end_mm(), 11.25);
    of.side = ThreadSide::internal;
    EXPECT_DOUBLE_EQ(of.start_radius_mm(), 4.0);
    EXPECT_DOUBLE_EQ(of.finish_radius_mm(), of.form.minor_radius_mm());
    of.finish = ThreadEnd::chamfer;
    EXPECT_DOUBLE_EQ(of.finish_radius_mm(), 4.0);
    EXPECT_DOUBLE_EQ(of.end_mm(), 10.0);
}

}  // namespace
}  // namespace fitup::plan
