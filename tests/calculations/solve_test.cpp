#include <gtest/gtest.h>

#include <random>

#include "calculations/linkage_builds.hpp"
#include "calculations/linkage_positions.hpp"
#include "calculations/linkage_setting.hpp"
#include "calculations/linkages.hpp"

namespace fitup::calculations {

namespace {

using namespace testing;

const LinkageProgress quiet = [](std::string_view) {};

TEST(Positions, both_assemblies_are_known) {
    // Design of Machinery, Example 4-1 (from memory, unverified): 57.325 open, -98.01 crossed.
    Linkage linkage = four_bar(100, 40, 120, 80);
    const auto deg = Angle::from_degrees;
    linkage.positions = {{"p", deg(40), deg(57), deg(5), deg(5)}};
    for (const double branch : {1.0, -1.0}) {
        const PositionResult position = positions_of(linkage, chain_of(linkage, {branch})).front();
        const bool is_open = std::abs(position.got_deg - 57.325) < 0.006;
        EXPECT_NEAR(std::remainder(position.got_deg - (is_open ? 57.325 : -98.01), 360.0), 0.0, 0.006);
        EXPECT_NEAR(position.other_deg, is_open ? -98.01 : 57.325, 0.006);
    }
}

TEST(Solve, finds_the_best_of_a_dense_grid_and_better) {
    // The rival looks at every place of a grid and then at ever finer ones round the best: slow and sure.
    const Linkage linkage = winch_to_solve();
    const auto solution = solve(linkage, quiet);
    ASSERT_TRUE(solution);
    const std::vector<Variation> unknowns = unknowns_of(linkage);
    ASSERT_EQ(unknowns.size(), 3u);
    std::vector<double> best(3), half(3);
    for (std::size_t i = 0; i < 3; ++i) {
        const Bounds between = *dimension_of(linkage, unknowns[i]).between;
        best[i] = (between.least + between.most) / 2;
        half[i] = (between.most - between.least) / 2;
    }
    Linkage tried = linkage;
    double least = std::numeric_limits<double>::infinity();
    for (int level = 0; level < 14; ++level) {
        const std::vector<double> centre = best;
        const int n = level == 0 ? 24 : 6;
        for (int i = -n; i <= n; ++i) {
            for (int j = -n; j <= n; ++j) {
                for (int k = -n; k <= n; ++k) {
                    const int at[3] = {i, j, k};
                    std::vector<double> values(3);
                    bool inside = true;
                    for (std::size_t m = 0; m < 3; ++m) {
                        values[m] = centre[m] + half[m] * at[m] / n;
                        const Bounds between = *dimension_of(linkage, unknowns[m]).between;
                        inside = inside && values[m] >= between.least && values[m] <= between.most;
                        set_value(tried, unknowns[m], values[m]);
                    }
                    const double worst = inside ? worst_of(tried) : least;
                    if (worst < least) {
                        least = worst;
                        best = values;
                    }
                }
            }
        }
        for (double& width : half) width *= level == 0 ? 0.25 : 0.5;
    }
    EXPECT_LE(solution->worst_normalised, least + 1e-9);
    EXPECT_GT(solution->worst_normalised, least - 0.01);  // the grid comes near from above
}

TEST(Solve, a_linkage_that_can_be_exact_comes_out_exact) {
    // Outputs taken from a linkage of known sizes: solving must find sizes that meet them all.
    Linkage linkage = winch_to_solve();
    const Linkage known = winch();
    const Chain chain = chain_of(known, *branches_of(known));
    for (WantedPosition& position : linkage.positions)
        position.output = Angle::from_radians(output_rad(chain, position.input.radians()));
    const auto solution = solve(linkage, quiet);
    ASSERT_TRUE(solution);
    EXPECT_LT(solution->worst_normalised, 1e-7);
    EXPECT_NEAR(solution->linkage.levers[1].arm_out.value, 29.0, 1e-4);
    EXPECT_NEAR(solution->linkage.rods[0].length.value, 326.0, 1e-4);
    EXPECT_NEAR(solution->linkage.rods[1].length.value, 206.0, 1e-4);
}

TEST(Solve, is_the_same_every_time) {
    const auto first = solve(winch_to_solve(), quiet), second = solve(winch_to_solve(), quiet);
    ASSERT_TRUE(first && second);
    for (const Variation& unknown : unknowns_of(winch_to_solve()))
        EXPECT_EQ(value_of(first->linkage, unknown), value_of(second->linkage, unknown));
}

TEST(Solve, minimax_and_not_least_squares) {
    // One unknown that shifts every output alike: the best is half way between the extreme errors.
    Linkage linkage;
    linkage.levers = {lever("in", {0, 0, 0}, {0, 0, 1}, {0, 1, 0}, 50),
                      lever("out", {300, 0, 0}, {0, 0, 1}, {0, 1, 0}, 50)};
    Dimension length = of(300);
    length.between = Bounds{295, 305};
    linkage.rods = {{"rod-1", length, {}}};
    const auto deg = Angle::from_degrees;
    linkage.positions = {{"a", deg(-0.02), deg(0), deg(1), deg(1)},
                         {"b", deg(0), deg(0), deg(1), deg(1)},
                         {"c", deg(0.001), deg(0), deg(1), deg(1)},
                         {"d", deg(0.002), deg(0), deg(1), deg(1)}};
    const auto solution = solve(linkage, quiet);
    ASSERT_TRUE(solution);
    EXPECT_NEAR(solution->worst_normalised, 0.011, 1e-5);
    linkage.positions[0].below = deg(0.1);  // a's room under its output is a tenth: it is kept nearer
    const auto leaning = solve(linkage, quiet);
    ASSERT_TRUE(leaning);
    EXPECT_NEAR(leaning->worst_normalised, 0.022 / 1.1, 1e-5);
}

TEST(Solve, one_sided_windows) {
    Linkage linkage = winch_to_solve();
    for (WantedPosition& position : linkage.positions) position.below = Angle();
    const auto solution = solve(linkage, quiet);
    ASSERT_TRUE(solution);
    for (const PositionResult& position :
         positions_of(solution->linkage, chain_of(solution->linkage, solution->branches)))
        EXPECT_GT(position.error_deg, -1e-7) << position.name;
}

TEST(Solve, says_nothing_where_nothing_closes) {
    Linkage linkage = winch_to_solve();
    linkage.rods[0].length.between = Bounds{10, 20};
    EXPECT_FALSE(solve(linkage, quiet));
}

TEST(Setting, is_the_best_of_all_in_reach) {
    Linkage linkage = winch_to_solve();
    linkage.rods[0].adjust = Adjust{"1/4-28 UNF", 25.4 / 28, false, 0.5, 6.0, 6.0};
    const auto solution = solve(linkage, quiet);
    ASSERT_TRUE(solution);
    const auto hand = hand_setting(solution->linkage);
    ASSERT_TRUE(hand);
    const double step = 25.4 / 28 / 2;
    EXPECT_NEAR(std::remainder(hand->linkage.levers[1].arm_out.value, 0.5), 0.0, 1e-12);
    EXPECT_NEAR(std::remainder(hand->linkage.rods[1].length.value, 0.5), 0.0, 1e-12);
    EXPECT_NEAR(hand->linkage.rods[0].length.value, hand->cut_mm[0] + hand->steps[0] * step, 1e-9);
    EXPECT_EQ(hand->steps[0], std::round(hand->steps[0]));
    // Every half turn that the thread gives, at the sizes chosen.
    Linkage tried = hand->linkage;
    for (int n = -13; n <= 13; ++n) {
        tried.rods[0].length.value = hand->cut_mm[0] + n * step;
        EXPECT_GE(worst_of(tried), hand->worst_normalised - 1e-12) << n;
    }
    const auto rods = rod_settings(*hand);
    EXPECT_NEAR(rods[0].left_longer_mm + rods[0].left_shorter_mm, 12.0, 1e-9);
    // What a turn does, by making the rod a turn longer.
    const double turn = 25.4 / 28;
    Linkage longer = hand->linkage, shorter = hand->linkage;
    longer.rods[0].length.value += turn / 2;
    shorter.rods[0].length.value -= turn / 2;
    for (std::size_t k = 0; k < linkage.positions.size(); ++k) {
        const double input = linkage.positions[k].input.radians();
        const double moved = output_rad(chain_of(longer, hand->branches), input) -
                             output_rad(chain_of(shorter, hand->branches), input);
        EXPECT_NEAR(rods[0].turn_deg[k], moved / rad, 1e-3);
    }
}

TEST(Builds, spread_as_first_order_propagation_says) {
    const Linkage linkage = winch();
    const auto branches = branches_of(linkage);
    ASSERT_TRUE(branches);
    const Builds builds = sample_builds(linkage, *branches, 0);
    for (std::size_t k = 0; k < linkage.positions.size(); ++k)
        EXPECT_NEAR(builds.sigma_deg[k] / builds.first_order_sigma_deg[k], 1.0, 0.01) << k;
}

TEST(Builds, are_the_same_for_the_same_seed_only) {
    Linkage linkage = winch();
    linkage.tolerances = {1.0, 2.0, 2.0, true};
    const auto branches = branches_of(linkage);
    ASSERT_TRUE(branches);
    const Builds first = sample_builds(linkage, *branches, 0), second = sample_builds(linkage, *branches, 0);
    EXPECT_EQ(first.all_select, second.all_select);
    EXPECT_EQ(first.sigma_deg, second.sigma_deg);
    linkage.seed = 2;
    const Builds other = sample_builds(linkage, *branches, 0);
    EXPECT_NE(first.all_select, other.all_select);
    EXPECT_NEAR(first.all_select, other.all_select, 0.01);
}

TEST(Builds, share_agrees_with_a_plain_simulation) {
    // The rival makes each build a linkage of its own and asks for its verdicts, with the standard library's
    // random numbers.
    Linkage linkage = winch();
    linkage.tolerances = {1.0, 2.0, 1.5, true};
    const auto branches = branches_of(linkage);
    ASSERT_TRUE(branches);
    const Builds builds = sample_builds(linkage, *branches, 0);
    std::mt19937_64 engine(7);
    std::uniform_real_distribution<double> spread(-1.0, 1.0);
    constexpr int tries = 20000;
    int good = 0;
    for (int i = 0; i < tries; ++i) {
        Linkage build = linkage;
        for (const Toleranced& size : toleranced_of(linkage))
            set_value(build, size.variation,
                      value_of(linkage, size.variation) + size.tolerance_mm * spread(engine));
        bool all = true;
        for (const PositionResult& position : positions_of(build, chain_of(build, *branches)))
            all = all && position.verdict == Verdict::selects;
        good += all ? 1 : 0;
    }
    const double share = double(good) / tries;
    EXPECT_GT(share, 0.2);
    EXPECT_LT(share, 0.95);
    EXPECT_NEAR(builds.all_select, share, 4.0 * std::sqrt(share * (1 - share) / tries));
}

TEST(Builds, setting_the_rod_makes_up_for_errors) {
    Linkage linkage = winch();
    linkage.tolerances = {1.0, 2.0, 1.5, true};
    linkage.rods[1].adjust = Adjust{"1/4-28 UNF", 25.4 / 28, false, 0.5, 6.0, 6.0};
    const auto branches = branches_of(linkage);
    ASSERT_TRUE(branches);
    const Builds builds = sample_builds(linkage, *branches, 2);
    EXPECT_GT(builds.all_select_set, builds.all_select + 0.1);
}

TEST(Builds, influences_add_up_to_the_spread) {
    const Linkage linkage = winch();
    const auto branches = branches_of(linkage);
    ASSERT_TRUE(branches);
    const auto influences = influences_of(linkage, *branches);
    EXPECT_EQ(influences.size(), toleranced_of(linkage).size());
    for (std::size_t i = 1; i < influences.size(); ++i)
        EXPECT_GE(influences[i - 1].share, influences[i].share);
}

}  // namespace

}  // namespace fitup::calculations
