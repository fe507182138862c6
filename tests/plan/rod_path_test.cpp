#include "plan/rod_path.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "base/vector3.hpp"
#include "property.hpp"
#include "rods.hpp"

namespace fitup::plan {
namespace {

using testing::any_rod;
using testing::bare_rod;

constexpr double pi = std::numbers::pi;

/// BS 4466 shape 37, exact form: A + B - 2 (R + d) + (pi/2)(R + d/2), A and B outside sizes, R inside radius.
TEST(RodPath, an_l_shaped_bar_is_as_long_as_the_handbook_says) {
    const double d = 12, inside = 24, a = 300, b = 200;
    const Rod rod = bare_rod(d, inside + d / 2, {{0, 0, 0}, {a - d / 2, 0, 0}, {a - d / 2, b - d / 2, 0}});
    const RodPath path = rod_path(rod);
    EXPECT_NEAR(path.length_mm, a + b - 2 * (inside + d) + pi / 2 * (inside + d / 2), 1e-12);
    EXPECT_NEAR(path.length_mm, 475.1, 0.05) << "the worked figure";
    EXPECT_NEAR(path.bends[0].mark_mm, a - d / 2 - 30, 1e-12);
    EXPECT_NEAR(path.bends[0].middle_mm, a - d / 2 - 30 + pi / 4 * 30, 1e-12);
    EXPECT_NEAR(path.bends[0].angle.degrees(), 90, 1e-12);
}

/// Along +X, then +Y, then +Z: the second bend's axis (+X) lies a quarter turn from the first one's (+Z),
/// right-handed about +Y, the way the rod runs there.
TEST(RodPath, the_turn_between_bends_is_right_handed_about_the_way_the_rod_runs) {
    const Rod rod = bare_rod(6, 20, {{0, 0, 0}, {100, 0, 0}, {100, 100, 0}, {100, 100, 100}});
    const RodPath path = rod_path(rod);
    ASSERT_EQ(path.bends.size(), 2u);
    EXPECT_DOUBLE_EQ(path.bends[0].turn.degrees(), 0);
    EXPECT_NEAR(path.bends[1].turn.degrees(), 90, 1e-12);
    EXPECT_NEAR(path.bends[1].mark_mm, 80 + pi / 2 * 20 + 60, 1e-12);

    const Rod mirrored = bare_rod(6, 20, {{0, 0, 0}, {100, 0, 0}, {100, 100, 0}, {100, 100, -100}});
    EXPECT_NEAR(rod_path(mirrored).bends[1].turn.degrees(), -90, 1e-12);
    const Rod zigzag = bare_rod(6, 20, {{0, 0, 0}, {100, 0, 0}, {100, 100, 0}, {200, 100, 0}});
    EXPECT_NEAR(std::abs(rod_path(zigzag).bends[1].turn.degrees()), 180, 1e-12);
    const Rod hook = bare_rod(6, 20, {{0, 0, 0}, {100, 0, 0}, {100, 100, 0}, {0, 100, 0}});
    EXPECT_NEAR(rod_path(hook).bends[1].turn.degrees(), 0, 1e-12);
}

/// Bent by its own table: from straight stock, bend by bend, each plane turned by what the table says, the
/// last end comes out where the file has it.
TEST(RodPath, a_rod_bent_by_its_table_ends_where_the_path_ends) {
    for_random_cases([] {
        const Rod rod = any_rod();
        const RodPath path = rod_path(rod);
        Vector at = rod.corners[0], along = unit(rod.corners[1] - rod.corners[0]);
        Vector axis = path.bends.empty() ? Vector{} : path.bends[0].axis;
        double stock_mm = 0.0;
        const auto turned = [](const Vector& v, const Vector& about, double angle) {
            return v * std::cos(angle) + cross(about, v) * std::sin(angle) +
                   about * (dot(about, v) * (1 - std::cos(angle)));
        };
        for (const RodBend& bend : path.bends) {
            at = at + along * (bend.mark_mm - stock_mm);
            axis = turned(axis, along, bend.turn.radians());
            const Vector outward = cross(along, axis);
            const Vector centre = at - outward * rod.bend_radius_mm;
            at = centre + turned(outward, axis, bend.angle.radians()) * rod.bend_radius_mm;
            along = turned(along, axis, bend.angle.radians());
            stock_mm = bend.mark_mm + rod.bend_radius_mm * bend.angle.radians();
        }
        at = at + along * (path.length_mm - stock_mm);
        RC_ASSERT(length(at - rod.corners.back()) < 1e-9);
    });
}

TEST(RodPath, places_along_it_run_evenly_and_without_kinks) {
    for_random_cases([] {
        const Rod rod = any_rod();
        const RodPath path = rod_path(rod);
        RC_ASSERT(length(path.place_at(-1).at - rod.corners.front()) < 1e-9);
        RC_ASSERT(length(path.place_at(path.length_mm + 1).at - rod.corners.back()) < 1e-9);
        const double step = path.length_mm / 500;
        for (int i = 0; i < 500; ++i) {
            const auto a = path.place_at(i * step), b = path.place_at((i + 1) * step);
            const double chord = length(b.at - a.at);
            // A chord of an arc is short by step^3 / (24 R^2) at most.
            const double short_by = std::pow(step, 3) / (24 * rod.bend_radius_mm * rod.bend_radius_mm);
            RC_ASSERT(chord < step + 1e-9);
            RC_ASSERT(chord > step - short_by - 1e-9);
            RC_ASSERT(length(b.along - a.along) < step / rod.bend_radius_mm + 1e-9);
        }
    });
}

TEST(RodFigures, a_straight_rods_ends_take_what_a_lathe_takes) {
    Rod rod = bare_rod(10, 0, {{0, 0, 0}, {100, 0, 0}});
    rod.ends[0] = {8, 20, {}, false, 1};
    rod.ends[1] = {10, 0, {}, false, 2};
    const RodFigures figures = rod_figures(rod, rod_path(rod));
    const auto frustum = [](double a, double b, double h) { return pi * h / 3 * (a * a + a * b + b * b); };
    const double volume = frustum(3, 4, 1) + pi * 16 * 19 + pi * 25 * (100 - 20 - 2) + frustum(3, 5, 2);
    EXPECT_NEAR(figures.volume_mm3, volume, 1e-9 * volume);
    const double area = pi * 9 + pi * 7 * std::sqrt(2) + pi * 8 * 19 + pi * (25 - 16) + pi * 10 * 78 +
                        pi * 8 * std::sqrt(8) + pi * 9;
    EXPECT_NEAR(figures.area_mm2, area, 1e-9 * area);
    EXPECT_DOUBLE_EQ(figures.box.most[0], 100);
    EXPECT_DOUBLE_EQ(figures.box.most[1], 5);
    EXPECT_DOUBLE_EQ(figures.box.least[2], -5);
}

TEST(RodContact, a_hairpin_touches_when_its_legs_are_nearer_than_the_rod_is_thick) {
    const auto hairpin = [](double gap) {
        return bare_rod(6, 3.2, {{0, 0, 0}, {100, 0, 0}, {100, 6 + gap, 0}, {0, 6 + gap, 0}});
    };
    const Rod clear = hairpin(0.5), touching = hairpin(0.4);
    EXPECT_FALSE(rod_contact(clear, rod_path(clear)));
    // 6.4 between the legs is the least that both bends leave room for; thicker stock touches.
    Rod thick = touching;
    thick.diameter_mm = 6.399;
    EXPECT_TRUE(rod_contact(thick, rod_path(thick)));
    thick.diameter_mm = 6.38;
    EXPECT_FALSE(rod_contact(thick, rod_path(thick)));
}

TEST(RodContact, a_rod_that_closes_or_crosses_itself_is_found_and_one_that_passes_above_is_not) {
    const Rod closed =
        bare_rod(6, 15, {{50, 0, 0}, {100, 0, 0}, {100, 100, 0}, {0, 100, 0}, {0, 0, 0}, {50, 0, 0}});
    ASSERT_TRUE(rod_contact(closed, rod_path(closed)));
    const auto loop = [](double rise) {
        return bare_rod(6, 15, {{-50, 0, 0}, {100, 0, 0}, {100, 100, 0}, {0, 100, rise}, {0, -60, rise}});
    };
    const Rod crossing = loop(5), passing = loop(7);
    const auto contact = rod_contact(crossing, rod_path(crossing));
    ASSERT_TRUE(contact);
    EXPECT_LT(contact->distance_mm, 6);
    EXPECT_NEAR(contact->at[0], 0, 6);
    EXPECT_FALSE(rod_contact(passing, rod_path(passing)));
}

/// Brute force: every pair of many places that are half a turn of the bend radius apart along the rod.
TEST(RodContact, agrees_with_every_pair_of_places) {
    for_random_cases(
        [] {
            const Rod rod = any_rod();
            const RodPath path = rod_path(rod);
            constexpr int count = 400;
            const double step = path.length_mm / count;
            double least = 1e9;
            for (int i = 0; i <= count; ++i) {
                for (int j = i; j <= count; ++j) {
                    if ((j - i) * step <= pi * rod.bend_radius_mm) continue;
                    least = std::min(least, length(path.place_at(i * step).at - path.place_at(j * step).at));
                }
            }
            const bool found = rod_contact(rod, path).has_value();
            RC_CLASSIFY(found);
            if (least < rod.diameter_mm) RC_ASSERT(found);
            // A place is at most half a step from one that was tried.
            if (least - step > rod.diameter_mm * 1.001) RC_ASSERT(!found);
        },
        60);
}

}  // namespace
}  // namespace fitup::plan
