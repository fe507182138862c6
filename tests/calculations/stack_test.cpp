// Stacks against textbook examples, corners by brute force, random assemblies and what must not matter.
#include "calculations/stack.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <random>

#include "calculations/stack_reading.hpp"
#include "parameters/open_file.hpp"

namespace fitup::calculations {
namespace {

StackLink link(std::string name, double size_mm, double plus_mm, double minus_mm) {
    return {std::move(name), size_mm, plus_mm, minus_mm, true};
}

/// Mechanical Engineering Design (Shigley), example of a shouldered screw with three parts under its nut
/// (from memory, unverified), in inches: a = 1.750 +- 0.003, b = 0.750 +- 0.001, c = 0.120 +- 0.005, d =
/// 0.875 +- 0.001. The gap a - b - c - d is 0.005 +- 0.010.
Stack shouldered_screw() {
    Stack stack;
    stack.links = {link("a", 1.750, 0.003, 0.003), link("b", 0.750, 0.001, 0.001),
                   link("c", 0.120, 0.005, 0.005), link("d", 0.875, 0.001, 0.001)};
    stack.closings = {{"gap", {}, {{0, 1.0}, {1, -1.0}, {2, -1.0}, {3, -1.0}}}};
    return stack;
}

/// The deck winch: one plate serves the splines and the pilot.
Stack engagement() {
    Stack stack;
    stack.links = {link("crank flange", -18.4, 0.2, 0.2), link("plate", 0.0, 0.05, 0.05),
                   link("shaft", 103.0, 0.3, 0.3), link("pilot", -41.1, 0.1, 0.1)};
    stack.closings = {{"spline engagement", Interval{38, 46}, {{0, 1.0}, {1, -1.0}, {2, 1.0}}},
                      {"end gap", Interval{2, 6}, {{0, 1.0}, {1, -1.0}, {2, 1.0}, {3, 1.0}}}};
    stack.solve = 1;
    return stack;
}

TEST(Stack, the_textbook_gap) {
    const StackResult result = work_out(shouldered_screw());
    ASSERT_EQ(result.closings.size(), 1u);
    const ClosingResult& gap = result.closings[0];
    EXPECT_NEAR(gap.nominal_mm, 0.005, 1e-12);
    EXPECT_NEAR(gap.worst_case.least_mm, -0.005, 1e-12);
    EXPECT_NEAR(gap.worst_case.most_mm, 0.015, 1e-12);
    // Root-sum-square of 3, 1, 5 and 1 is 6.
    EXPECT_NEAR(gap.statistical.least_mm, -0.001, 1e-12);
    EXPECT_NEAR(gap.statistical.most_mm, 0.011, 1e-12);
    EXPECT_EQ(gap.shares[0].link, 2u);
    EXPECT_NEAR(gap.shares[0].of_worst_case, 0.5, 1e-12);
    EXPECT_NEAR(gap.shares[0].of_variance, 25.0 / 36.0, 1e-12);
    EXPECT_TRUE(result.holds);
    EXPECT_FALSE(gap.out_of_window);
}

TEST(Stack, the_textbook_size_for_a_gap_of_at_least_three_thousandths) {
    // The same source: for a least gap of 0.003 d must be 0.867. The window's other end leaves just that.
    Stack stack = shouldered_screw();
    stack.closings[0].between = Interval{0.003, 0.023};
    stack.solve = 3;
    const StackResult result = work_out(stack);
    ASSERT_TRUE(result.solution && result.solution->serves);
    EXPECT_NEAR(result.solution->value_mm, 0.867, 1e-12);
    EXPECT_NEAR(result.solution->serves->least_mm, 0.867, 1e-12);
    EXPECT_NEAR(result.solution->serves->most_mm, 0.867, 1e-12);
    EXPECT_TRUE(result.holds);
}

TEST(Stack, one_plate_serves_two_closings) {
    // By hand: the splines ask for 39.15 to 46.05, the gap for 38.15 to 40.85.
    const StackResult result = work_out(engagement());
    ASSERT_TRUE(result.solution && result.solution->serves);
    EXPECT_EQ(result.solution->value_mm, 40.0);
    EXPECT_NEAR(result.solution->serves->least_mm, 39.15, 1e-12);
    EXPECT_NEAR(result.solution->serves->most_mm, 40.85, 1e-12);
    EXPECT_TRUE(result.holds);
    EXPECT_NEAR(result.closings[0].worst_case.least_mm, 44.05, 1e-12);
    EXPECT_NEAR(result.closings[1].worst_case.most_mm, 4.15, 1e-12);
}

TEST(Stack, closings_that_exclude_each_other_are_named_with_what_would_do) {
    Stack stack = engagement();
    stack.closings[0].between = Interval{38, 43.2};  // asks for at least 41.95
    const StackResult result = work_out(stack);
    EXPECT_FALSE(result.holds);
    ASSERT_TRUE(result.solution && result.solution->exclusion);
    EXPECT_FALSE(result.solution->serves);
    const StackExclusion& pair = *result.solution->exclusion;
    EXPECT_EQ(pair.at_least, 0u);
    EXPECT_EQ(pair.at_most, 1u);
    EXPECT_NEAR(pair.by_mm(), 41.95 - 40.85, 1e-12);
    EXPECT_NEAR(result.solution->value_mm, (41.95 + 40.85) / 2, 1e-9);
    // All tolerances at that share: just one size is left, and at a little more none.
    ASSERT_TRUE(pair.tolerances_to);
    for (const double factor : {1.0 - 1e-6, 1.0 + 1e-6}) {
        Stack tighter = stack;
        for (StackLink& one : tighter.links) {
            one.plus_mm *= *pair.tolerances_to * factor;
            one.minus_mm *= *pair.tolerances_to * factor;
        }
        EXPECT_EQ(work_out(tighter).solution->serves.has_value(), factor < 1.0);
    }
    // No single link has 1.1 mm to give here.
    EXPECT_FALSE(pair.link);
    ASSERT_EQ(result.findings.front().rule, "stack-serves");
    EXPECT_NE(result.findings.front().message.find("1.1 mm"), std::string::npos);
}

TEST(Stack, one_link_alone_made_closer_would_do) {
    Stack stack = engagement();
    stack.links[2].plus_mm = stack.links[2].minus_mm = 1.2;  // the shaft
    const StackResult result = work_out(stack);
    ASSERT_TRUE(result.solution && result.solution->exclusion && result.solution->exclusion->link);
    const StackExclusion& pair = *result.solution->exclusion;
    EXPECT_EQ(*pair.link, 2u);
    for (const double change_mm : {-1e-6, 1e-6}) {
        Stack closer = stack;
        closer.links[2].plus_mm = closer.links[2].minus_mm = (pair.link_spread_mm + change_mm) / 2;
        EXPECT_EQ(work_out(closer).solution->serves.has_value(), change_mm < 0.0);
    }
}

TEST(Stack, windows_that_exact_sizes_cannot_meet_are_said_to_need_more_than_tolerances) {
    Stack stack = engagement();
    stack.closings[0].between = Interval{38, 41};
    const StackResult result = work_out(stack);
    ASSERT_TRUE(result.solution && result.solution->exclusion);
    EXPECT_FALSE(result.solution->exclusion->tolerances_to);
    // Exact: the splines want a plate of at least 43.6, the gap of at most 41.5.
    EXPECT_NEAR(result.solution->exclusion->exact_by_mm, 2.1, 1e-9);
    EXPECT_NE(result.findings.front().message.find("no tolerance cures that"), std::string::npos);
}

TEST(Stack, tolerances_wider_than_the_window_are_told_of_the_closing_alone) {
    Stack stack = engagement();
    stack.closings = {{"end gap", Interval{3.4, 4.6}, stack.closings[1].through}};  // 1.3 in all, 1.2 wanted
    const StackResult result = work_out(stack);
    ASSERT_TRUE(result.solution && result.solution->exclusion);
    EXPECT_EQ(result.solution->exclusion->at_least, result.solution->exclusion->at_most);
    EXPECT_NEAR(result.solution->exclusion->by_mm(), 0.1, 1e-12);
    ASSERT_TRUE(result.solution->serves_statistical);
    EXPECT_FALSE(result.holds);
}

TEST(Stack, a_window_left_at_worst_stops_and_says_how_often) {
    Stack stack = shouldered_screw();
    stack.closings[0].between = Interval{0.0, 0.020};
    const StackResult result = work_out(stack);
    EXPECT_FALSE(result.holds);
    ASSERT_FALSE(result.findings.empty());
    EXPECT_EQ(result.findings[0].rule, "stack-window");
    EXPECT_NEAR(*result.findings[0].value, -0.005, 1e-12);
    // 0.005 over its sigma of 0.002 is 2.5 standard deviations: a normal table gives 0.00621.
    EXPECT_NEAR(*result.closings[0].out_of_window, 0.00621, 1e-5);
}

TEST(Stack, exact_sizes_lie_in_their_window_or_do_not) {
    Stack stack = shouldered_screw();
    for (StackLink& one : stack.links) one.plus_mm = one.minus_mm = 0.0;
    stack.closings[0].between = Interval{0.005, 0.01};
    EXPECT_EQ(*work_out(stack).closings[0].out_of_window, 0.0);
    EXPECT_TRUE(work_out(stack).holds);
    stack.closings[0].between = Interval{0.0051, 0.01};
    EXPECT_EQ(*work_out(stack).closings[0].out_of_window, 1.0);
    EXPECT_FALSE(work_out(stack).holds);
}

TEST(Stack, random_assemblies_spread_as_root_sum_square_says) {
    Stack stack = engagement();
    stack.links[0] = link("crank flange", -18.4, 0.5, 0.1);  // unequal: the mean moves
    stack.links[3] = link("pilot", -41.1, 0.0, 0.6);
    stack.closings[1].between = Interval{3.2, 3.9};
    stack.solve.reset();
    stack.links[1].size_mm = 40.0;
    const StackResult result = work_out(stack);
    std::mt19937_64 engine(11);
    constexpr int builds = 400'000;
    double sum = 0.0, squares = 0.0;
    int outside = 0;
    for (int i = 0; i < builds; ++i) {
        double gap = 0.0;
        for (const StackTerm& term : stack.closings[1].through) {
            const StackLink& one = stack.links[term.link];
            std::normal_distribution<double> size(one.size_mm + (one.plus_mm - one.minus_mm) / 2,
                                                  (one.plus_mm + one.minus_mm) / 6);
            gap += term.sign * size(engine);
        }
        sum += gap;
        squares += gap * gap;
        outside += gap < 3.2 || gap > 3.9 ? 1 : 0;
    }
    const double mean = sum / builds, sigma = std::sqrt(squares / builds - mean * mean);
    const double share = *result.closings[1].out_of_window;
    // Five standard errors of each estimate.
    EXPECT_NEAR(result.closings[1].mean_mm, mean, 5 * sigma / std::sqrt(builds));
    EXPECT_NEAR(result.closings[1].sigma_mm, sigma, 5 * sigma / std::sqrt(2.0 * builds));
    EXPECT_NEAR(share, double(outside) / builds, 5 * std::sqrt(share * (1 - share) / builds));
    EXPECT_GT(share, 0.01);
}

/// A stack with one open link in every closing and windows that leave it some room or none.
Stack random_stack(unsigned seed) {
    std::mt19937 engine(seed);
    std::uniform_real_distribution<double> size(-60, 120), tolerance(0, 0.4), middle(-20, 20);
    Stack stack;
    const int links = std::uniform_int_distribution<int>(2, 7)(engine);
    for (int i = 0; i < links; ++i)
        stack.links.push_back(
            link("l" + std::to_string(i), size(engine), tolerance(engine), tolerance(engine)));
    stack.solve = std::size_t(engine() % unsigned(links));
    stack.links[*stack.solve].size_mm = 0.0;
    const int closings = std::uniform_int_distribution<int>(1, 3)(engine);
    for (int c = 0; c < closings; ++c) {
        Closing closing;
        closing.name = "c" + std::to_string(c);
        double others = 0.0;
        for (std::size_t i = 0; i < stack.links.size(); ++i) {
            if (i != *stack.solve && engine() % 3 == 0) continue;
            closing.through.push_back({i, engine() % 2 == 0 ? 1.0 : -1.0});
            others += closing.through.back().sign * stack.links[i].size_mm;
        }
        // Near a plate of 40, so that some closings can live together.
        double at = others;
        for (const StackTerm& term : closing.through) {
            if (term.link == *stack.solve) at += term.sign * 40.0;
        }
        const double half = 0.5 + std::abs(middle(engine)) / 5.0, shift = middle(engine) / 10.0;
        closing.between = Interval{at + shift - half, at + shift + half};
        stack.closings.push_back(closing);
    }
    return stack;
}

/// Least and most of a closing over every corner of the tolerances.
Interval by_corners(const Stack& stack, const Closing& closing) {
    Interval all{1e300, -1e300};
    for (unsigned corner = 0; corner < (1u << stack.links.size()); ++corner) {
        double value = 0.0;
        for (const StackTerm& term : closing.through) {
            const StackLink& one = stack.links[term.link];
            value += term.sign * (one.size_mm + ((corner >> term.link) & 1u ? one.plus_mm : -one.minus_mm));
        }
        all.least_mm = std::min(all.least_mm, value);
        all.most_mm = std::max(all.most_mm, value);
    }
    return all;
}

bool all_corners_serve(Stack stack, double open_mm) {
    stack.links[*stack.solve].size_mm = open_mm;
    for (const Closing& closing : stack.closings) {
        const Interval all = by_corners(stack, closing);
        if (all.least_mm < closing.between->least_mm || all.most_mm > closing.between->most_mm) return false;
    }
    return true;
}

TEST(Stack, worst_case_and_serving_range_agree_with_every_corner) {
    int served = 0, excluded = 0;
    for (unsigned seed = 0; seed < 400; ++seed) {
        const Stack stack = random_stack(seed);
        const StackResult result = work_out(stack);
        for (std::size_t i = 0; i < result.closings.size(); ++i) {
            const Interval corners = by_corners(result.stack, stack.closings[i]);
            EXPECT_NEAR(result.closings[i].worst_case.least_mm, corners.least_mm, 1e-9) << seed;
            EXPECT_NEAR(result.closings[i].worst_case.most_mm, corners.most_mm, 1e-9) << seed;
        }
        const auto& serves = result.solution->serves;
        (serves ? served : excluded) += 1;
        constexpr double beside_mm = 1e-6;
        if (serves) {
            for (const double share : {0.0, 0.3, 0.5, 1.0}) {
                const double at = serves->least_mm + share * (serves->most_mm - serves->least_mm);
                const double inwards = share < 0.5 ? beside_mm : -beside_mm;
                if (serves->most_mm - serves->least_mm > 3 * beside_mm) {
                    EXPECT_TRUE(all_corners_serve(stack, at + inwards)) << seed;
                }
            }
            EXPECT_FALSE(all_corners_serve(stack, serves->least_mm - beside_mm)) << seed;
            EXPECT_FALSE(all_corners_serve(stack, serves->most_mm + beside_mm)) << seed;
            EXPECT_TRUE(result.holds) << seed;
        } else {
            for (double at = 30; at <= 50; at += 0.01) EXPECT_FALSE(all_corners_serve(stack, at)) << seed;
            EXPECT_FALSE(result.holds) << seed;
        }
    }
    EXPECT_GT(served, 50);
    EXPECT_GT(excluded, 50);
}

TEST(Stack, what_would_do_does) {
    int cured = 0;
    for (unsigned seed = 0; seed < 400; ++seed) {
        Stack stack = random_stack(seed);
        // Two closings at most: then the worst pair is the only one.
        if (stack.closings.size() > 2) stack.closings.pop_back();
        const StackResult result = work_out(stack);
        if (!result.solution->exclusion || !result.solution->exclusion->tolerances_to) continue;
        const double factor = *result.solution->exclusion->tolerances_to;
        if (factor < 1e-3) continue;
        const auto& pair = *result.solution->exclusion;
        Stack tighter = stack;
        tighter.closings = {stack.closings[pair.at_least]};
        if (pair.at_most != pair.at_least) tighter.closings.push_back(stack.closings[pair.at_most]);
        for (StackLink& one : tighter.links) {
            one.plus_mm *= factor * (1 - 1e-6);
            one.minus_mm *= factor * (1 - 1e-6);
        }
        const auto after = work_out(tighter);
        // The pair's other ends may still meet; they are then told as the next exclusion.
        if (after.solution->exclusion) {
            EXPECT_TRUE(after.solution->exclusion->at_least != pair.at_least ||
                        after.solution->exclusion->at_most != pair.at_most)
                << seed;
        }
        ++cured;
    }
    EXPECT_GT(cured, 30);
}

TEST(Stack, order_and_direction_do_not_matter) {
    EXPECT_TRUE(rc::check([] {
        const Stack stack = random_stack(*rc::gen::inRange(0u, 100000u));
        const StackResult result = work_out(stack);
        // The axis turned round: every sign and window turns.
        Stack turned = stack;
        for (Closing& closing : turned.closings) {
            for (StackTerm& term : closing.through) term.sign = -term.sign;
            closing.between = Interval{-closing.between->most_mm, -closing.between->least_mm};
            std::reverse(closing.through.begin(), closing.through.end());
        }
        const StackResult other = work_out(turned);
        RC_ASSERT(std::abs(other.solution->value_mm - result.solution->value_mm) < 1e-8);
        RC_ASSERT(other.holds == result.holds);
        for (std::size_t i = 0; i < result.closings.size(); ++i) {
            RC_ASSERT(std::abs(result.closings[i].worst_case.least_mm +
                               other.closings[i].worst_case.most_mm) < 1e-8);
            RC_ASSERT(std::abs(result.closings[i].sigma_mm - other.closings[i].sigma_mm) < 1e-12);
            RC_ASSERT(std::abs(*result.closings[i].out_of_window - *other.closings[i].out_of_window) < 1e-9);
            double shares = 0.0;
            for (const StackShare& share : result.closings[i].shares) shares += share.of_variance;
            RC_ASSERT(std::abs(shares - 1.0) < 1e-9);
        }
    }));
}

/// A file's text as `calculate` reads it.
ReadStack read(const std::string& closes, const std::string& links, const std::string& units = "mm") {
    const std::string text = R"({"format": 1, "calculation": "stack", "name": "s", "units": ")" + units +
                             R"(", "closes": )" + closes + R"(, "links": )" + links + "}";
    const std::vector<std::string> kinds{"stack"};
    return read_stack(parameters::open_file(text, "s.json", parameters::Role::calculation, kinds).document);
}

std::vector<std::string> messages(const ReadStack& read) {
    std::vector<std::string> texts;
    for (const auto& fault : read.faults) texts.push_back(fault.message);
    return texts;
}

using Texts = std::vector<std::string>;

TEST(StackReading, one_closing_alone_goes_through_every_link) {
    const ReadStack stack = read(
        R"({"between": [1, 2]})",
        R"([{"name": "a", "size": 10, "tolerance": 0.1}, {"name": "b", "size": -8.5, "plus": 0.2, "minus": 0}])");
    ASSERT_TRUE(stack.stack) << messages(stack)[0];
    ASSERT_EQ(stack.stack->closings.size(), 1u);
    EXPECT_EQ(stack.stack->closings[0].name, "closing-1");
    EXPECT_EQ(stack.stack->closings[0].through.size(), 2u);
    EXPECT_EQ(stack.stack->links[0].plus_mm, 0.1);
    EXPECT_EQ(stack.stack->links[0].minus_mm, 0.1);
    EXPECT_EQ(stack.stack->links[1].plus_mm, 0.2);
    EXPECT_EQ(stack.stack->links[1].minus_mm, 0.0);
    const ClosingResult closing = work_out(*stack.stack).closings[0];
    EXPECT_NEAR(closing.worst_case.least_mm, 1.4, 1e-12);
    EXPECT_NEAR(closing.worst_case.most_mm, 1.8, 1e-12);
    EXPECT_NEAR(closing.mean_mm, 1.6, 1e-12);
}

TEST(StackReading, inches_and_lengths_with_units_of_their_own) {
    const ReadStack stack = read(
        R"([{"name": "gap", "between": [0.04, "2 mm"], "through": ["a", "- b"]}])",
        R"([{"name": "a", "size": "1-1/4 in", "tolerance": "4 thou"}, {"name": "b", "size": 1.2}])", "in");
    ASSERT_TRUE(stack.stack) << messages(stack)[0];
    EXPECT_NEAR(stack.stack->links[0].size_mm, 31.75, 1e-12);
    EXPECT_NEAR(stack.stack->links[0].plus_mm, 0.1016, 1e-12);
    EXPECT_NEAR(stack.stack->closings[0].between->least_mm, 1.016, 1e-12);
    EXPECT_NEAR(stack.stack->closings[0].between->most_mm, 2.0, 1e-12);
    EXPECT_EQ(stack.stack->closings[0].through[1].sign, -1.0);
    const StackResult result = work_out(*stack.stack);
    EXPECT_NEAR(result.closings[0].nominal_mm, 1.27, 1e-12);
    ASSERT_EQ(result.findings.size(), 1u);
    EXPECT_EQ(result.findings[0].rule, "stack-tolerance");
    EXPECT_EQ(result.findings[0].where, "b");
}

TEST(StackReading, every_mistake_is_told_at_its_key) {
    const std::string links =
        R"([{"name": "crank flange", "size": 18, "tolerance": 0.1}, {"name": "plate", "solve": true}])";
    EXPECT_EQ(
        messages(read(R"([{"name": "g", "between": [6, 2], "through": ["crank flang", "plate"]}])", links)),
        (Texts{"closes[0].between: found a list of 2, wanted the least first and the most after it",
               "closes[0].through[0]: found \"crank flang\", wanted the name of a link; the nearest is "
               "\"crank flange\""}));
    EXPECT_EQ(
        messages(read(R"([{"name": "g", "between": [1, 2], "through": ["plate", "-plate"]}])", links)),
        (Texts{"closes[0].through[1]: found \"-plate\", wanted each link once: plate is in this closing "
               "already"}));
    EXPECT_EQ(messages(read(R"([{"name": "g", "between": [1, 2], "through": ["crank flange"]}])", links)),
              (Texts{"links[1].solve: no closing with `between` goes through plate, so nothing says what it "
                     "must be"}));
    EXPECT_EQ(messages(read(R"({"between": [1, 2]})",
                            R"([{"name": "a", "solve": true}, {"name": "b", "solve": true}])")),
              (Texts{"links[1].solve: a second open link; a is solved for already, and only one can be"}));
    EXPECT_EQ(
        messages(read(R"([{"name": "g"}, {"name": "g"}])",
                      R"([{"name": "a", "size": 1}, {"name": "a", "size": 2}, {"name": "-b", "size": 2}])")),
        (Texts{"closes[1].name: found \"g\", wanted a name that no other closing has",
               "links[1].name: found \"a\", wanted a name that no other link has",
               "links[2].name: found \"-b\", wanted a name that does not begin with -: that turns a "
               "sign in `through`"}));
}

TEST(StackReading, the_schema_tells_sizes_and_tolerances_that_contradict) {
    for (const char* links :
         {R"([{"name": "a"}])", R"([{"name": "a", "size": 1, "solve": true}])",
          R"([{"name": "a", "size": 1, "plus": 0.1}])", R"([{"name": "a", "size": 1, "minus": 0.1}])",
          R"([{"name": "a", "size": 1, "plus": 0.1, "minus": 0.1, "tolerance": 0.1}])",
          R"([{"name": "a", "size": 1, "tolerance": -0.1}])", R"([{"name": "a", "solve": false}])",
          R"([])"}) {
        const ReadStack stack = read(R"({"between": [1, 2]})", links);
        EXPECT_FALSE(stack.stack) << links;
        ASSERT_FALSE(stack.faults.empty()) << links;
        for (const auto& fault : stack.faults) EXPECT_TRUE(fault.key.starts_with("links")) << fault.message;
    }
}

}  // namespace
}  // namespace fitup::calculations
