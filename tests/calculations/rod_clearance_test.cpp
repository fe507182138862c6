// Rods in motion beside what stands still: against closed forms and against small steps.
#include "calculations/rod_clearance.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "calculations/linkages.hpp"
#include "calculations/swing.hpp"

namespace fitup::calculations {
namespace {

using namespace testing;

ObstacleShape bar(const Vector& from, const Vector& to, double diameter_mm) {
    return shape_of("bar", plan::RoundBar{from, to, diameter_mm});
}

/// A parallelogram: the rod stays along X and goes round a circle of 50 mm.
Linkage parallelogram(double diameter_mm) {
    Linkage linkage;
    linkage.levers = {lever("in", {0, 0, 0}, {0, 0, 1}, {0, 1, 0}, 50),
                      lever("out", {200, 0, 0}, {0, 0, 1}, {0, 1, 0}, 50)};
    linkage.rods = {{"rod-1", of(200), {}}};
    linkage.rods[0].diameter_mm = diameter_mm;
    linkage.stops.input = {Angle::from_degrees(-40), Angle::from_degrees(40)};
    linkage.positions = {{"p", Angle(), Angle(), Angle::from_degrees(5), Angle::from_degrees(5)}};
    return linkage;
}

TEST(RodClearance, of_a_parallelogram_is_closed_form) {
    // Highest at the middle of the travel: 50 up, less half the rod and half the bar, under a bar 70 up.
    const Linkage linkage = parallelogram(8);
    const Chain chain = chain_of(linkage, *branches_of(linkage));
    const std::vector<ObstacleShape> above{bar({100, 70, -30}, {100, 70, 30}, 6)};
    const auto found = rod_clearances(linkage, chain, above);
    ASSERT_EQ(found.size(), 1u);
    EXPECT_NEAR(found[0].clearance.least_mm, 70 - 50 - 4 - 3, 0.005);
    EXPECT_NEAR(found[0].clearance.at_deg, 0.0, 1.0);
    EXPECT_LE(found[0].clearance.error_mm, 0.01);
    // Below it is nearest at both ends of the travel: 50 cos 40.
    const std::vector<ObstacleShape> below{bar({100, 10, -30}, {100, 10, 30}, 6)};
    EXPECT_NEAR(rod_clearances(linkage, chain, below)[0].clearance.least_mm,
                50 * std::cos(40 * rad) - 10 - 4 - 3, 0.005);
    const std::vector<ObstacleShape> in_the_way{bar({100, 45, -30}, {100, 45, 30}, 2)};
    EXPECT_TRUE(rod_clearances(linkage, chain, in_the_way)[0].clearance.touches);
}

TEST(RodClearance, sees_a_thin_wire_between_steps) {
    // The rod sweeps past a wire within a few hundredths of a degree.
    const Linkage linkage = parallelogram(0.02);
    const Chain chain = chain_of(linkage, *branches_of(linkage));
    const double at = 17.345 * rad;
    const std::vector<ObstacleShape> wire{
        bar({100, 50 * std::cos(at), -30}, {100, 50 * std::cos(at), 30}, 0.02)};
    EXPECT_TRUE(rod_clearances(linkage, chain, wire)[0].clearance.touches);
}

TEST(RodClearance, agrees_with_small_steps_on_spatial_chains) {
    EXPECT_TRUE(rc::check("steps of a thousandth of the travel", [] {
        Linkage linkage = skew_chain();
        linkage.rods[0].diameter_mm = 6.0;
        linkage.rods[1].diameter_mm = 8.0;
        const Chain chain = chain_of(linkage, *branches_of(linkage));
        const auto mm = [](int least, int most) { return double(*rc::gen::inRange(least, most)); };
        const Vector from{mm(-50, 400), mm(-100, 250), mm(-60, 60)};
        const std::vector<ObstacleShape> obstacles{
            bar(from, from + Vector{mm(-40, 40), mm(-40, 40), mm(1, 50)}, mm(2, 20))};
        const auto travel = input_travel(linkage);
        for (const RodClearance& one : rod_clearances(linkage, chain, obstacles)) {
            const std::size_t i = one.rod == "rod-1" ? 0 : 1;
            double least = 1e9, fastest = 0.0;
            Vector before_a{}, before_b{};
            for (int k = 0; k <= 1000; ++k) {
                const double input =
                    travel[0].radians() + (travel[1].radians() - travel[0].radians()) * k / 1000;
                const Pose pose = pose_at(chain, input);
                if (pose.gap_mm > 0.0) continue;
                const Loop& loop = chain.loops[i];
                const Vector a = chain.driving[i].at(pose.turns[i]);
                const Vector b =
                    loop.centre +
                    (loop.e1 * pose.turns[i + 1].cos + loop.e2 * pose.turns[i + 1].sin) * loop.radius_mm;
                if (k > 0) fastest = std::max({fastest, length(a - before_a), length(b - before_b)});
                before_a = a;
                before_b = b;
                Convex line;
                line.points = {a, b};
                enclose(line);
                least = std::min(least, separation(line, obstacles[0].pieces[0], {}, 1e-7).upper_mm -
                                            *linkage.rods[i].diameter_mm / 2);
            }
            least = std::max(0.0, least);
            RC_ASSERT(one.clearance.error_mm <= 0.01);
            RC_ASSERT(least >= one.clearance.least_mm - one.clearance.error_mm - 1e-6);
            RC_ASSERT(least <= one.clearance.least_mm + fastest);
        }
    }));
}

TEST(RodClearance, joints_stay_within_their_reach) {
    const Linkage linkage = skew_chain();
    const Chain chain = chain_of(linkage, *branches_of(linkage));
    for (double middle = -0.5; middle <= 0.5; middle += 0.05) {
        const double half = 0.01;
        const auto reach = joint_reach(chain, middle, half);
        const Pose pose = pose_at(chain, middle);
        for (int k = -20; k <= 20; ++k) {
            const Pose other = pose_at(chain, middle + half * k / 20);
            for (std::size_t i = 0; i < 2; ++i) {
                ASSERT_TRUE(reach[i].is_known);
                EXPECT_LE(length(chain.driving[i].at(other.turns[i]) - chain.driving[i].at(pose.turns[i])),
                          reach[i].first_mm + 1e-9);
                const Loop& loop = chain.loops[i];
                const auto driven = [&](const Turn& turn) {
                    return loop.centre + (loop.e1 * turn.cos + loop.e2 * turn.sin) * loop.radius_mm;
                };
                EXPECT_LE(length(driven(other.turns[i + 1]) - driven(pose.turns[i + 1])),
                          reach[i].last_mm + 1e-9);
            }
        }
    }
}

TEST(RodClearance, stops_under_the_clearance_wanted) {
    const Linkage linkage = parallelogram(8);
    const Chain chain = chain_of(linkage, *branches_of(linkage));
    const std::vector<ObstacleShape> above{bar({100, 70, -30}, {100, 70, 30}, 6)};
    const auto found = rod_clearances(linkage, chain, above);
    plan::Swing surroundings;
    surroundings.clearance_mm = 12.9;
    EXPECT_TRUE(rod_clearance_findings(surroundings, found).empty());
    surroundings.clearance_mm = 13.1;
    const auto findings = rod_clearance_findings(surroundings, found);
    ASSERT_EQ(findings.size(), 1u);
    EXPECT_EQ(findings[0].where, "rod-1, bar");
}

}  // namespace
}  // namespace fitup::calculations
