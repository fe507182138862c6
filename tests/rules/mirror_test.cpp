// A pattern against its mirror image, worked out a second way: every turn that lays one hole on another, or
// just within its slack of it, is tried.
#include "rules/mirror.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

namespace fitup::rules {
namespace {

using plan::Point;

constexpr double pi = std::numbers::pi;

Point on_circle(double radius_mm, double angle_rad) {
    return {radius_mm * std::cos(angle_rad), radius_mm * std::sin(angle_rad)};
}

/// X changed in sign, then turned: as a plate drilled mirrored is laid on.
Point laid_on(Point point, double turn_rad) {
    const double x = -point.x_mm;
    return {x * std::cos(turn_rad) - point.y_mm * std::sin(turn_rad),
            x * std::sin(turn_rad) + point.y_mm * std::cos(turn_rad)};
}

std::vector<std::size_t> lonely_at(const std::vector<SlackHole>& holes, double turn_rad) {
    std::vector<std::size_t> lonely;
    for (std::size_t i = 0; i < holes.size(); ++i) {
        const Point image = laid_on(holes[i].at_mm, turn_rad);
        const bool fits = std::any_of(holes.begin(), holes.end(), [&](const SlackHole& place) {
            return plan::distance_mm(image, place.at_mm) <= holes[i].slack_mm + 1e-9;
        });
        if (!fits) lonely.push_back(i);
    }
    return lonely;
}

/// The furthest turn from `fits_rad` towards one side at which the hole still fits the place.
double last_fit(const SlackHole& hole, Point place, double fits_rad, double side) {
    double inside = fits_rad;
    double outside = fits_rad + side * pi;
    for (int step = 0; step < 60; ++step) {
        const double middle = (inside + outside) / 2.0;
        const bool fits = plan::distance_mm(laid_on(hole.at_mm, middle), place) <= hole.slack_mm;
        (fits ? inside : outside) = middle;
    }
    return inside;
}

std::size_t least_lonely_by_trial(const std::vector<SlackHole>& holes) {
    std::size_t least = holes.size();
    for (const SlackHole& hole : holes) {
        for (const SlackHole& place : holes) {
            const double straight_rad = std::atan2(place.at_mm.y_mm, place.at_mm.x_mm) -
                                        std::atan2(hole.at_mm.y_mm, -hole.at_mm.x_mm);
            if (plan::distance_mm(laid_on(hole.at_mm, straight_rad), place.at_mm) > hole.slack_mm) continue;
            for (const double turn : {straight_rad, last_fit(hole, place.at_mm, straight_rad, 1.0),
                                      last_fit(hole, place.at_mm, straight_rad, -1.0)})
                least = std::min(least, lonely_at(holes, turn).size());
        }
    }
    return least;
}

/// Holes on a few radii; some are given a mirrored partner that is off by about their slack.
std::vector<SlackHole> random_pattern(std::mt19937& random) {
    std::uniform_real_distribution<double> angle(0.0, 2.0 * pi);
    std::uniform_real_distribution<double> off(-0.6, 0.6);
    std::uniform_real_distribution<double> slack(0.2, 0.8);
    const double axis = angle(random);
    std::vector<SlackHole> holes;
    while (holes.size() < 7) {
        const double radius_mm = random() % 2 == 0 ? 80.0 : 120.0;
        const double at = angle(random);
        holes.push_back({on_circle(radius_mm, at), slack(random)});
        if (random() % 3 == 0) continue;
        holes.push_back(
            {on_circle(radius_mm + off(random) / 2.0, axis - at + off(random) / radius_mm), slack(random)});
    }
    return holes;
}

TEST(Mirror, random_patterns_agree_with_trying_every_turn) {
    std::mt19937 random(20260207);
    std::size_t partly = 0;
    for (int i = 0; i < 400; ++i) {
        const auto holes = random_pattern(random);
        const MirrorMatch match = best_mirror_match(holes);
        ASSERT_EQ(match.lonely.size(), least_lonely_by_trial(holes)) << "pattern " << i;
        ASSERT_EQ(match.lonely, lonely_at(holes, match.turn_rad)) << "pattern " << i;
        if (!match.lonely.empty() && match.lonely.size() + 3 <= holes.size()) ++partly;
    }
    EXPECT_GT(partly, 100u);  // else the patterns ask nothing
}

TEST(Mirror, a_pattern_that_was_turned_matches_as_before) {
    std::mt19937 random(7);
    for (int i = 0; i < 50; ++i) {
        auto holes = random_pattern(random);
        const auto lonely = best_mirror_match(holes).lonely.size();
        for (SlackHole& hole : holes)
            hole.at_mm = {hole.at_mm.x_mm * 0.6 - hole.at_mm.y_mm * 0.8,
                          hole.at_mm.x_mm * 0.8 + hole.at_mm.y_mm * 0.6};
        EXPECT_EQ(best_mirror_match(holes).lonely.size(), lonely) << "pattern " << i;
    }
}

std::vector<SlackHole> circle(int count) {
    std::vector<SlackHole> holes;
    for (int i = 0; i < count; ++i) holes.push_back({on_circle(190.5, 2.0 * pi * i / count + 0.3), 0.1});
    return holes;
}

TEST(Mirror, a_large_bolt_circle_is_its_own_image_and_one_hole_off_is_found) {
    auto holes = circle(600);
    EXPECT_TRUE(best_mirror_match(holes).lonely.empty());
    // Half a millimetre along the circle: no neighbour is off alike, so it and its image's place tell.
    holes[17].at_mm = on_circle(190.5, 2.0 * pi * 17 / 600 + 0.3 + 0.5 / 190.5);
    const MirrorMatch match = best_mirror_match(holes);
    EXPECT_EQ(match.lonely, lonely_at(holes, match.turn_rad));
    EXPECT_EQ(match.lonely, (std::vector<std::size_t>{17}));
}

TEST(Mirror, each_hole_has_its_own_slack) {
    // A symmetric trapezium with one corner 0.3 off along its circle.
    std::vector<SlackHole> holes{{on_circle(100.0, 0.4), 0.5},
                                 {on_circle(100.0, pi - 0.4 + 0.003), 0.5},
                                 {on_circle(100.0, -1.1), 0.5},
                                 {on_circle(100.0, pi + 1.1), 0.5}};
    EXPECT_TRUE(best_mirror_match(holes).lonely.empty());
    // The first two just fit each other at a turn that is 0.15 mm off for the others.
    holes[0].slack_mm = holes[1].slack_mm = 0.1;
    EXPECT_TRUE(best_mirror_match(holes).lonely.empty());
    holes[2].slack_mm = holes[3].slack_mm = 0.1;
    EXPECT_EQ(best_mirror_match(holes).lonely.size(), 2u);
}

TEST(Mirror, no_hole_one_hole_and_a_hole_at_the_centre_are_sound) {
    EXPECT_TRUE(best_mirror_match({}).lonely.empty());
    const std::vector<SlackHole> one{{{30.0, 40.0}, 0.1}};
    EXPECT_TRUE(best_mirror_match(one).lonely.empty());
    const std::vector<SlackHole> centre{{{0.0, 0.0}, 0.1}, {{30.0, 40.0}, 0.1}, {{0.0, 70.0}, 0.1}};
    EXPECT_EQ(best_mirror_match(centre).lonely.size(), 1u);
}

}  // namespace
}  // namespace fitup::rules
