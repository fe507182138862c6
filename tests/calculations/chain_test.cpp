#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <unsupported/Eigen/NonLinearOptimization>

#include "calculations/linkages.hpp"
#include "calculations/motion.hpp"
#include "calculations/variations.hpp"

namespace fitup::calculations {

namespace {

using namespace testing;

/// Four-bar links, crank angle, and the rocker's angle in both assemblies, in degrees.
struct Published {
    const char* source;
    double d, a, b, c, t2, open_deg, crossed_deg, within_deg;
};

// Sources as the handbook notes of the project name them; "computed" marks answers worked out again from
// published inputs.
const Published published[] = {
    {"university assignment on vector loops, found with answers", 10, 35, 25, 15, 30, 334.0983, 107.3985,
     5e-5},
    {"Machine Design I, homework set 2, 2010, computed to four places", 16, 8, 14, 12, 15, 81.7594, -109.8632,
     6e-5},
    {"Machine Design I, spring 2011, computed", 14, 7, 10, 8, 60, 94.9035, -154.9035, 6e-5},
    {"Machine Design I, spring 2012, computed", 6, 2, 6, 3.5, 30, 68.3149, -94.6885, 6e-5},
    {"Design of Machinery, Example 4-1, from memory, unverified", 100, 40, 120, 80, 40, 57.325, -98.01, 6e-3},
    {"Design of Machinery, Table P4-1 row a, from memory, unverified", 6, 2, 7, 9, 30, 117.29, -143.66, 6e-3},
    {"row c", 3, 10, 6, 8, 45, 16.49, 103.65, 6e-3},
    {"row e", 8, 5, 8, 6, 75, 78.21, -149.74, 6e-3},
    {"row g", 6, 8, 8, 9, 25, 7.24, 132.17, 6e-3},
    {"row i", 4, 5, 2, 5, 80, 103.09, 141.82, 6e-3},
    {"row k", 4, 6, 10, 7, 88, 31.91, -147.31, 6e-3},
    {"row m", 9, 7, 11, 8, 50, 35.91, -135.90, 6e-3},
    {"course quiz on root finding, change point, computed", 4, 1, 2, 3, 40, 132.1062, -154.5896, 6e-5},
};

double apart_deg(double a, double b) { return std::abs(std::remainder(a - b, 360.0)); }

TEST(Chain, both_assemblies_of_published_four_bars) {
    for (const Published& one : published) {
        const Linkage linkage = four_bar(one.d, one.a, one.b, one.c);
        const double first = output_deg(linkage, one.t2, 1.0), second = output_deg(linkage, one.t2, -1.0);
        const bool in_order = apart_deg(first, one.open_deg) < apart_deg(second, one.open_deg);
        EXPECT_LT(apart_deg(in_order ? first : second, one.open_deg), one.within_deg) << one.source;
        EXPECT_LT(apart_deg(in_order ? second : first, one.crossed_deg), one.within_deg) << one.source;
    }
}

TEST(Chain, swing_and_transmission_of_a_published_crank_and_rocker) {
    // University kinematics course, solution to homework 2, problem 2.2 (found): swing 75 degrees given,
    // transmission angle 31.63 and 100.79 printed (computed again in the project's notes: 31.61, 100.80).
    const Linkage linkage = four_bar(154.34, 63.5, 165.5, 114.0 / 1.0);
    double least = 1e9, most = -1e9, least_transmission = 1e9, most_transmission = -1e9;
    const Chain chain = chain_of(linkage, {-1.0});
    for (int i = 0; i < 36000; ++i) {
        const Pose pose = pose_at(chain, i * 0.01 * rad);
        ASSERT_EQ(pose.gap_mm, 0.0) << i;
        const double deg = degrees_of(pose.turns[1]);
        const double transmission = motion_of(chain, pose)[0].transmission.degrees();
        least = std::min(least, std::abs(deg));
        most = std::max(most, std::abs(deg));
        least_transmission = std::min(least_transmission, transmission);
        most_transmission = std::max(most_transmission, transmission);
    }
    EXPECT_NEAR(most - least, 75.0, 0.01);
    EXPECT_NEAR(least_transmission, 31.61, 0.01);
    EXPECT_NEAR(most_transmission, 100.80, 0.01);
}

TEST(Chain, freudenstein) {
    // Freudenstein's equation holds at every closed position: K1 cos t4 - K2 cos t2 + K3 = cos(t2 - t4), with
    // K1 = d/a, K2 = d/c, K3 = (a2 - b2 + c2 + d2) / (2 a c). (Freudenstein 1955, from memory.)
    EXPECT_TRUE(rc::check("an independent relation between the angles", [] {
        const auto size = [](int least, int most) { return *rc::gen::inRange(least, most) / 1000.0; };
        const double d = size(20000, 400000), a = size(20000, 400000), b = size(20000, 600000),
                     c = size(20000, 400000), t2 = size(-180000, 180000) * rad;
        const Linkage linkage = four_bar(d, a, b, c);
        for (const double branch : {1.0, -1.0}) {
            const double t4 = output_rad(chain_of(linkage, {branch}), t2);
            if (std::isnan(t4)) continue;
            const double left =
                d / a * std::cos(t4) - d / c * std::cos(t2) + (a * a - b * b + c * c + d * d) / (2.0 * a * c);
            RC_ASSERT(std::abs(left - std::cos(t2 - t4)) < 1e-9 * (1.0 + b * b / (a * c)));
        }
    }));
}

TEST(Chain, spatial_loop_with_axes_at_right_angles) {
    // Worked by hand: sin p = (D.D - 16000) / (120 (40 cos t - 120)); at 90 degrees the rod runs from (0, 40,
    // 0) to (120, 0, 60) and 120^2 + 40^2 + 60^2 = 140^2.
    Linkage linkage = four_bar(120, 40, 140, 60);
    linkage.levers[1].axis = {0, 1, 0};
    linkage.levers[1].rest = {0, 0, 1};
    const double table[][3] = {{30, 54.2579, 125.7421},    {60, 23.5782, 156.4218},    {90, 0, 180},
                               {120, -16.6015, -163.3985}, {150, -26.6166, -153.3834}, {180, -30, -150}};
    for (const auto& row : table) {
        const double first = output_deg(linkage, row[0], 1.0), second = output_deg(linkage, row[0], -1.0);
        const bool in_order = apart_deg(first, row[1]) < apart_deg(second, row[1]);
        EXPECT_LT(apart_deg(in_order ? first : second, row[1]), 6e-5) << row[0];
        EXPECT_LT(apart_deg(in_order ? second : first, row[2]), 6e-5) << row[0];
    }
    // At 0 the two assemblies meet: a dead point.
    EXPECT_NEAR(output_deg(linkage, 1e-9, 1.0), 90.0, 1e-3);
}

TEST(Chain, spatial_loop_with_skew_axes) {
    // Computed beforehand from the closed form by a program of its own (project's notes, case R3).
    Linkage linkage;
    linkage.levers = {
        lever("crank", {0, 0, 10}, {0, 0, 1}, {1, 0, 0}, 30),
        lever("rocker", {110, 20, -15}, {0, std::sin(60 * rad), std::cos(60 * rad)}, {1, 0, 0}, 70)};
    linkage.rods = {{"rod-1", of(130), {}}};
    const double table[][3] = {{0, -46.0911, 89.2619},
                               {45, -60.8092, 87.4773},
                               {90, -84.4288, 101.6438},
                               {135, -99.1939, 117.4170},
                               {180, -102.6790, 128.1570}};
    for (const auto& row : table) {
        EXPECT_LT(apart_deg(output_deg(linkage, row[0], 1.0), row[1]), 6e-5) << row[0];
        EXPECT_LT(apart_deg(output_deg(linkage, row[0], -1.0), row[2]), 6e-5) << row[0];
    }
}

/// Distance less rod length, as a general solver for nonlinear equations sees it.
struct RodEquation {
    using Scalar = double;
    const Linkage& linkage;
    Vector driving;
    int operator()(const Eigen::VectorXd& x, Eigen::VectorXd& f) const {
        const Lever& driven = linkage.levers[1];
        f[0] = length(driving - joint(driven, driven.arm_in, driven.offset_in, x[0])) -
               linkage.rods[0].length.value;
        return 0;
    }
};

TEST(Chain, against_a_general_solver_of_equations) {
    // Eigen's hybrid Powell method (a port of MINPACK), started a little off.
    Linkage linkage = skew_chain();
    linkage.levers.pop_back();
    linkage.rods.pop_back();
    const auto branches = branches_of(linkage);
    ASSERT_TRUE(branches);
    const Chain chain = chain_of(linkage, *branches);
    for (double input_deg = -30; input_deg <= 30; input_deg += 7.5) {
        const double exact = output_rad(chain, input_deg * rad);
        const Lever& driving = linkage.levers[0];
        RodEquation equation{linkage, joint(driving, driving.arm_out, driving.offset_out, input_deg * rad)};
        Eigen::HybridNonLinearSolver<RodEquation> solver(equation);
        solver.parameters.xtol = 1e-14;
        Eigen::VectorXd x(1);
        x[0] = exact + 0.1;
        solver.solveNumericalDiff(x);
        EXPECT_NEAR(x[0], exact, 1e-9) << input_deg;
    }
}

TEST(Chain, every_rod_has_its_length) {
    EXPECT_TRUE(rc::check("closure by vector arithmetic from the levers alone, both branches", [] {
        const Linkage linkage = skew_chain();
        const double input = *rc::gen::inRange(-30000, 30000) * 1e-3 * rad;
        for (const std::vector<double>& branches : {std::vector<double>{1, 1}, {1, -1}, {-1, 1}, {-1, -1}}) {
            const Pose pose = pose_at(chain_of(linkage, branches), input);
            if (pose.gap_mm > 0.0) continue;
            const auto angle = [&](std::size_t i) {
                return std::atan2(pose.turns[i].sin, pose.turns[i].cos);
            };
            for (std::size_t i = 0; i < 2; ++i) {
                const Lever &from = linkage.levers[i], &to = linkage.levers[i + 1];
                const double more = i > 0 ? from.angle_between.value * rad : 0.0;
                const Vector a = joint(from, from.arm_out, from.offset_out, angle(i) + more);
                const Vector b = joint(to, to.arm_in, to.offset_in, angle(i + 1));
                RC_ASSERT(std::abs(length(a - b) - linkage.rods[i].length.value) < 1e-9);
            }
        }
    }));
}

TEST(Chain, small_angles_follow_the_proportion_of_the_arms) {
    // Rods square to both arms: arm : travel = arm : travel (common practice, no source).
    Linkage linkage;
    linkage.levers = {lever("in", {0, 0, 0}, {0, 0, 1}, {0, 1, 0}, 80),
                      lever("out", {300, 30, 0}, {0, 0, 1}, {0, 1, 0}, 50)};
    linkage.rods = {{"rod-1", of(300), {}}};
    const auto branches = branches_of(linkage);
    ASSERT_TRUE(branches);
    const Chain chain = chain_of(linkage, *branches);
    EXPECT_NEAR(output_rad(chain, 1e-5) / 1e-5, 80.0 / 50.0, 1e-4);
    EXPECT_NEAR(motion_of(chain, pose_at(chain, 0.0))[0].ratio, 1.6, 1e-12);
}

TEST(Chain, movement_agrees_with_differences) {
    const Linkage linkage = skew_chain();
    const auto branches = branches_of(linkage);
    ASSERT_TRUE(branches);
    const double input = 11 * rad;
    const Chain chain = chain_of(linkage, *branches);
    const Pose pose = pose_at(chain, input);
    const auto motion = motion_of(chain, pose);
    const double h = 1e-5;
    EXPECT_NEAR(carried_to_output(motion).front(),
                (output_rad(chain, input + h) - output_rad(chain, input - h)) / (2 * h), 1e-8);
    using Kind = Variation::Kind;
    std::vector<Variation> all{{Kind::rod, 0}, {Kind::rod, 1}};
    for (const Kind kind : {Kind::arm_in, Kind::arm_out, Kind::angle_between, Kind::offset_in,
                            Kind::offset_out, Kind::pivot_x, Kind::pivot_y, Kind::pivot_z})
        all.push_back({kind, 1});
    for (const std::size_t end : {std::size_t(0), std::size_t(2)}) {
        for (const Kind kind : {Kind::pivot_x, Kind::pivot_y, Kind::pivot_z}) all.push_back({kind, end});
    }
    all.push_back({Kind::arm_out, 0});
    all.push_back({Kind::offset_out, 0});
    all.push_back({Kind::arm_in, 2});
    all.push_back({Kind::offset_in, 2});
    for (const Variation& variation : all) {
        Linkage more = linkage, less = linkage;
        const double step = 1e-4, value = value_of(linkage, variation);
        set_value(more, variation, value + step);
        set_value(less, variation, value - step);
        const double rate =
            (output_rad(chain_of(more, *branches), input) - output_rad(chain_of(less, *branches), input)) /
            (2 * step);
        EXPECT_NEAR(output_rate(linkage, chain, pose, motion, variation), rate, 1e-9)
            << key_of(linkage, variation);
    }
}

TEST(Chain, lost_motion_of_four_joints) {
    // Four joints of 0.05 mm on 48 mm: 0.24 degrees; of 0.5 mm 2.4 (trade practice, worked out again).
    Linkage linkage;
    linkage.levers = {lever("a", {0, 0, 0}, {0, 0, 1}, {0, 1, 0}, 48),
                      lever("b", {300, 0, 0}, {0, 0, 1}, {0, 1, 0}, 48),
                      lever("c", {600, 0, 0}, {0, 0, 1}, {0, 1, 0}, 48)};
    linkage.rods = {{"rod-1", of(300), {}}, {"rod-2", of(300), {}}};
    const Chain chain = chain_of(linkage, *branches_of(linkage));
    const auto motion = motion_of(chain, pose_at(chain, 0.0));
    EXPECT_NEAR(lost_motion_rad(motion, 0.05) / rad, 4 * 0.05 / 48 / rad, 1e-12);
    EXPECT_NEAR(lost_motion_rad(motion, 0.05) / rad, 0.24, 0.005);
    EXPECT_NEAR(lost_motion_rad(motion, 0.5) / rad, 2.4, 0.05);
}

TEST(Chain, a_bellcrank_gives_the_moment_of_its_arms) {
    // Design exercise with its solution (found): 5 kN on 500 mm moves 16,666.67 N on 150 mm; a lever of 0.75
    // m against 0.5 m has a mechanical advantage of 0.667 (school exercise, found).
    Linkage linkage;
    linkage.levers = {lever("long", {0, 0, 0}, {0, 0, 1}, {0, 1, 0}, 500),
                      lever("short", {900, 350, 0}, {0, 0, 1}, {0, 1, 0}, 150)};
    linkage.rods = {{"rod-1", of(900), {}}};
    const Chain chain = chain_of(linkage, *branches_of(linkage));
    const double ratio = motion_of(chain, pose_at(chain, 0.0))[0].ratio;
    EXPECT_NEAR(5000.0 * std::abs(ratio), 16666.67, 0.005);
}

TEST(Chain, tells_by_how_much_a_rod_misses) {
    EXPECT_NEAR(pose_at(chain_of(four_bar(300, 40, 200, 50), {1.0}), 0.0).gap_mm, 10.0, 1e-9);  // too short
    EXPECT_NEAR(pose_at(chain_of(four_bar(300, 40, 330, 50), {1.0}), 0.0).gap_mm, 20.0, 1e-9);  // too long
    EXPECT_EQ(pose_at(chain_of(four_bar(300, 40, 260, 50), {1.0}), 0.0).gap_mm, 0.0);
    // A pin on the driven lever's own axis is as far from all of its circle.
    EXPECT_GT(pose_at(chain_of(four_bar(40, 40, 30, 50), {1.0}), 0.0).gap_mm, 0.0);
}

TEST(Chain, takes_the_branch_nearest_its_rest) {
    Linkage linkage = four_bar(100, 40, 120, 80);
    linkage.levers[1].rest = {std::cos(50 * rad), std::sin(50 * rad), 0};
    const auto open = branches_of(linkage);
    linkage.levers[1].rest = {std::cos(-90 * rad), std::sin(-90 * rad), 0};
    const auto crossed = branches_of(linkage);
    ASSERT_TRUE(open && crossed);
    EXPECT_NE(open->front(), crossed->front());
    EXPECT_FALSE(branches_of(four_bar(1000, 40, 120, 80)));
}

}  // namespace

}  // namespace fitup::calculations
