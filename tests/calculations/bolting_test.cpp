// Two patterns that bolt up or don't: the minimax fit against known motions, a general optimiser and nested
// searches; position tolerances against worked examples; odds against closed forms.
#include "calculations/bolting.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <nlopt.hpp>
#include <numbers>
#include <numeric>

#include "calculations/bolting_odds.hpp"
#include "calculations/enclosing.hpp"
#include "calculations/pairing.hpp"
#include "calculations/position_tolerance.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using plan::Point;
using Pairs = std::vector<FastenerPair>;

constexpr double pi = std::numbers::pi;

double any(double least, double most) {
    return least + (most - least) * double(*rc::gen::inRange(0, 1'000'001)) / 1e6;
}
Point any_point(double size) { return {any(-size, size), any(-size, size)}; }

/// Points on a circle, on a line, on a grid or anywhere.
std::vector<Point> any_pattern(int count) {
    const int kind = *rc::gen::inRange(0, 4);
    std::vector<Point> points;
    for (int i = 0; i < count; ++i) {
        const double turn = 2.0 * pi * i / count;
        if (kind == 0) points.push_back({190.0 * std::cos(turn), 190.0 * std::sin(turn)});
        if (kind == 1) points.push_back({any(-200, 200), 30.0});
        if (kind == 2) points.push_back({25.0 * (i % 4), 25.0 * int(i / 4)});
        if (kind == 3) points.push_back(any_point(200));
    }
    return points;
}

struct Motion {
    double turn_rad = 0.0;
    Point shift_mm;
};
Motion any_motion() { return {any(-pi, pi), any_point(50)}; }
Point moved(const Motion& motion, Point point) {
    return plan::turned(point, motion.turn_rad) + motion.shift_mm;
}
Point moved_back(const Motion& motion, Point point) {
    return plan::turned(point - motion.shift_mm, -motion.turn_rad);
}

/// Pairs whose places miss by up to `off_mm` each way, the second pattern somewhere else.
Pairs any_pairs(int least_count, int most_count, double off_mm) {
    const Motion motion = any_motion();
    Pairs pairs;
    for (const Point& place : any_pattern(*rc::gen::inRange(least_count, most_count + 1)))
        pairs.push_back({place, moved_back(motion, place + any_point(off_mm)), any(0.1, 0.9)});
    return pairs;
}

double least_clearance_at(const Pairs& pairs, const Motion& motion) {
    double least = 1e9;
    for (const FastenerPair& pair : pairs)
        least = std::min(least, pair.slack_mm - plan::length(pair.first_mm - moved(motion, pair.second_mm)));
    return least;
}

/// The greatest value of a function with one summit between two places.
template <typename Function>
double summit(double from, double to, const Function& value) {
    const double golden = (std::sqrt(5.0) - 1.0) / 2.0;
    double a = to - golden * (to - from), b = from + golden * (to - from);
    double at_a = value(a), at_b = value(b);
    for (int i = 0; i < 60; ++i) {
        if (at_a < at_b) {
            from = a, a = b, at_a = at_b;
            b = from + golden * (to - from), at_b = value(b);
        } else {
            to = b, b = a, at_b = at_a;
            a = to - golden * (to - from), at_a = value(a);
        }
    }
    return std::max(at_a, at_b);
}

/// Shift by two nested searches: the least clearance is a concave function of it.
double best_clearance_at_turn(const Pairs& pairs, double turn_rad) {
    Point middle;
    for (const FastenerPair& pair : pairs)
        middle =
            middle + (pair.first_mm - plan::turned(pair.second_mm, turn_rad)) * (1.0 / double(pairs.size()));
    double reach = 1.0;
    for (const FastenerPair& pair : pairs)
        reach =
            std::max(reach, plan::length(pair.first_mm - plan::turned(pair.second_mm, turn_rad) - middle));
    return summit(middle.x_mm - reach, middle.x_mm + reach, [&](double x) {
        return summit(middle.y_mm - reach, middle.y_mm + reach, [&](double y) {
            return least_clearance_at(pairs, {turn_rad, {x, y}});
        });
    });
}

TEST(Enclosing, best_shift_against_nested_searches) {
    EXPECT_TRUE(rc::check("the least reach of circles, each with a slack of its own", [] {
        Pairs pairs;
        std::vector<Miss> misses;
        const int count = *rc::gen::inRange(1, 12);
        for (int i = 0; i < count; ++i) {
            const Point miss = any_point(*rc::gen::element(1e-6, 0.3, 5.0));
            const double slack = any(0.0, *rc::gen::element(0.0, 0.5, 8.0));
            misses.push_back({miss, slack});
            pairs.push_back({miss, {}, slack});
        }
        const Enclosing best = smallest_reach(misses);
        double worst = -1e9;
        for (const Miss& miss : misses)
            worst = std::max(worst, plan::length(miss.by_mm - best.shift_mm) - miss.slack_mm);
        RC_ASSERT(std::abs(worst - best.reach_mm) < 1e-12);
        RC_ASSERT(std::abs(best_clearance_at_turn(pairs, 0.0) + best.reach_mm) < 1e-9);
        Point sum;
        double weights = 0.0;
        for (std::size_t k = 0; k < best.count; ++k) {
            sum = sum + best.towards[k] * best.weight[k];
            weights += best.weight[k];
        }
        RC_ASSERT(plan::length(sum) < 1e-9);
        RC_ASSERT(std::abs(weights - 1.0) < 1e-12);
    }));
}

TEST(Bolting, known_motion_comes_back) {
    EXPECT_TRUE(rc::check("exact patterns lie on one another again", [] {
        const Motion motion = any_motion();
        Pairs pairs;
        for (const Point& place : any_pattern(*rc::gen::inRange(3, 25)))
            pairs.push_back({moved(motion, place), place, 0.5});
        const double apart = plan::length(pairs[0].first_mm - pairs[1].first_mm);
        RC_PRE(apart > 1.0);
        const BoltFit fit = best_fit(pairs);
        RC_ASSERT(std::abs(fit.least_clearance_mm - 0.5) < 1e-9);
        RC_ASSERT(std::abs(std::remainder(fit.turn_rad - motion.turn_rad, 2 * pi)) < 1e-8);
        RC_ASSERT(plan::length(fit.shift_mm - motion.shift_mm) < 1e-6);
        RC_ASSERT(fit.certain_within_mm < 1e-9);
    }));
}

TEST(Bolting, no_turn_and_shift_is_better) {
    EXPECT_TRUE(rc::check("proved to a millionth of a thousandth, and no trial beats it", [] {
        const Pairs pairs = any_pairs(1, 24, *rc::gen::element(0.0, 0.4, 6.0));
        const BoltFit fit = best_fit(pairs);
        RC_ASSERT(fit.certain_within_mm < 1e-9);
        RC_ASSERT(fit.clearances_mm.size() == pairs.size());
        RC_ASSERT(!fit.deciding.empty());
        RC_ASSERT(std::abs(least_clearance_at(pairs, {fit.turn_rad, fit.shift_mm}) - fit.least_clearance_mm) <
                  1e-11);
        RC_ASSERT(bolts_up(pairs) == fit.possible());
        for (int i = 0; i < 200; ++i) {
            const double size = std::pow(10.0, any(-7, 1));
            const Motion trial{fit.turn_rad + any(-size, size) * 0.01, fit.shift_mm + any_point(size)};
            RC_ASSERT(least_clearance_at(pairs, trial) < fit.least_clearance_mm + 1e-9);
        }
    }));
}

TEST(Bolting, against_nested_searches_over_the_whole_circle) {
    // Slacks as large as the pattern, so that no turn can be left out beforehand.
    EXPECT_TRUE(rc::check("the best of a fine ladder of turns, each followed to its summit", [] {
        Pairs pairs;
        const int count = *rc::gen::inRange(2, 6);
        for (int i = 0; i < count; ++i) pairs.push_back({any_point(10), any_point(10), any(0.0, 6.0)});
        const BoltFit fit = best_fit(pairs);
        constexpr int steps = 60;
        const auto clearance = [&](double turn) { return best_clearance_at_turn(pairs, turn); };
        std::vector<double> ladder;
        for (int i = -1; i <= steps; ++i) ladder.push_back(clearance(2 * pi * i / steps));
        double best = -1e9;
        for (int i = 0; i < steps; ++i) {
            const auto at = std::size_t(i + 1);
            if (ladder[at] < ladder[at - 1] || ladder[at] < ladder[at + 1]) continue;
            best = std::max(best, summit(2 * pi * (i - 1) / steps, 2 * pi * (i + 1) / steps, clearance));
        }
        RC_ASSERT(best < fit.least_clearance_mm + 1e-9);
        RC_ASSERT(best > fit.least_clearance_mm - 1e-6);
        RC_ASSERT(fit.certain_within_mm < 1e-9);
    }));
}

/// Maximises z where every fastener's clearance is at least z, by a general optimiser: x, y, turn (as travel
/// at 100 mm, so that all are of a size), z. Begun again where it ended, since it stops early at times.
double by_general_optimiser(const Pairs& pairs, const Motion& start) {
    struct One {
        const FastenerPair* pair;
    };
    std::vector<One> all;
    for (const FastenerPair& pair : pairs) all.push_back({&pair});
    nlopt::opt search(nlopt::LD_SLSQP, 4);
    search.set_min_objective(
        [](const std::vector<double>& at, std::vector<double>& slope, void*) {
            if (!slope.empty()) slope = {0.0, 0.0, 0.0, -1.0};
            return -at[3];
        },
        nullptr);
    for (One& one : all) {
        search.add_inequality_constraint(
            [](const std::vector<double>& at, std::vector<double>& slope, void* data) {
                const FastenerPair& pair = *static_cast<One*>(data)->pair;
                const Point there = plan::turned(pair.second_mm, at[2] / 100.0);
                const Point miss = there + Point{at[0], at[1]} - pair.first_mm;
                const double apart = std::max(1e-12, plan::length(miss));
                if (!slope.empty())
                    slope = {miss.x_mm / apart, miss.y_mm / apart,
                             plan::dot(miss, plan::left_of(there)) / apart / 100.0, 1.0};
                return apart - pair.slack_mm + at[3];
            },
            &one, 1e-12);
    }
    search.set_xtol_rel(1e-14);
    search.set_maxeval(4000);
    std::vector<double> at{start.shift_mm.x_mm, start.shift_mm.y_mm, start.turn_rad * 100.0,
                           least_clearance_at(pairs, start)};
    double best = -1e9;
    for (int i = 0; i < 10; ++i) {
        double value = 0.0;
        try {
            search.optimize(at, value);
        } catch (const nlopt::roundoff_limited&) {
        }
        at[3] = least_clearance_at(pairs, {at[2] / 100.0, {at[0], at[1]}});
        best = std::max(best, at[3]);
        // Off the kink, or it would stay there.
        for (std::size_t k = 0; k < 3; ++k) at[k] += 1e-3 * std::sin(7.0 * i + double(k));
        at[3] -= 1e-2;
    }
    return best;
}

TEST(Bolting, against_a_general_optimiser) {
    EXPECT_TRUE(rc::check("sequential quadratic programming reaches the same clearance", [] {
        // Centred patterns nearly in place, as the optimiser needs them.
        Pairs pairs;
        for (const Point& place : any_pattern(*rc::gen::inRange(3, 25)))
            pairs.push_back({place, place + any_point(0.4), any(0.3, 0.7)});
        const BoltFit fit = best_fit(pairs);
        const double other = by_general_optimiser(pairs, {0.0, {0.01, 0.02}});
        RC_ASSERT(other < fit.least_clearance_mm + 1e-9);
        RC_ASSERT(other > fit.least_clearance_mm - 1e-5);
    }));
}

TEST(Bolting, more_slack_adds_exactly_that_clearance) {
    EXPECT_TRUE(rc::check("a tenth more everywhere is a tenth more clearance", [] {
        Pairs pairs = any_pairs(1, 24, 0.6);
        const double before = best_fit(pairs).least_clearance_mm, more = any(0.0, 1.0);
        for (FastenerPair& pair : pairs) pair.slack_mm += more;
        RC_ASSERT(std::abs(best_fit(pairs).least_clearance_mm - before - more) < 1e-9);
    }));
}

TEST(Bolting, moving_the_input_moves_the_result_alike) {
    EXPECT_TRUE(rc::check("either pattern moved, the clearances stay", [] {
        const Pairs pairs = any_pairs(2, 24, 0.6);
        const Motion first = any_motion(), second = any_motion();
        Pairs elsewhere;
        for (const FastenerPair& pair : pairs)
            elsewhere.push_back({moved(first, pair.first_mm), moved(second, pair.second_mm), pair.slack_mm});
        const BoltFit here = best_fit(pairs), there = best_fit(elsewhere);
        RC_ASSERT(std::abs(here.least_clearance_mm - there.least_clearance_mm) < 1e-9);
    }));
}

TEST(Bolting, two_fasteners_in_closed_form) {
    EXPECT_TRUE(rc::check("two holes miss by half of what their distances differ", [] {
        const double p = any(10, 300), q = any(10, 300), s = any(0, 1), t = any(0, 1);
        const Pairs pairs{{{0, 0}, {3, 4}, s}, {{p, 0}, {3, 4 + q}, t}};
        const double expected = std::min({(s + t - std::abs(p - q)) / 2.0, s, t});
        RC_ASSERT(std::abs(best_fit(pairs).least_clearance_mm - expected) < 1e-9);
    }));
}

TEST(Bolting, a_hole_out_of_place_on_a_square_in_closed_form) {
    // Corners of a square, one moved out along its diagonal by e: by symmetry the best shift is along that
    // diagonal without a turn, half-way between the moved corner and the one across: e / 2.
    const double e = 0.8;
    Pairs pairs{
        {{1, 1}, {1, 1}, 0.3}, {{-1, 1}, {-1, 1}, 0.3}, {{-1, -1}, {-1, -1}, 0.3}, {{1, -1}, {1, -1}, 0.3}};
    for (FastenerPair& pair : pairs) {
        pair.first_mm = pair.first_mm * 50.0;
        pair.second_mm = pair.second_mm * 50.0;
    }
    pairs[0].first_mm = pairs[0].first_mm + Point{e, e} * (1.0 / std::sqrt(2.0));
    const BoltFit fit = best_fit(pairs);
    EXPECT_NEAR(fit.least_clearance_mm, 0.3 - e / 2.0, 1e-9);
    EXPECT_NEAR(fit.turn_rad, 0.0, 1e-9);
    const Openings open = openings(pairs, fit);
    EXPECT_NEAR(open.all_alike_mm, 2.0 * (e / 2.0 - 0.3), 1e-8);
    ASSERT_TRUE(open.one);
    // Opening the one corner, the others shift along the diagonal as far as they may: e - 0.3 - 0.3 is left.
    EXPECT_TRUE(*open.one == 0 || *open.one == 2);
    EXPECT_NEAR(open.one_mm, 2.0 * (e - 0.6), 1e-6);
}

TEST(Bolting, openings_are_enough_and_none_too_large) {
    EXPECT_TRUE(rc::check("opened so, it bolts up; a thousandth less, it does not", [] {
        const Pairs pairs = any_pairs(2, 10, 2.0);
        const BoltFit fit = best_fit(pairs);
        RC_PRE(!fit.possible());
        const Openings open = openings(pairs, fit);
        const auto opened = [&](const std::vector<std::size_t>& which, double by_mm) {
            Pairs result = pairs;
            for (const std::size_t i : which) result[i].slack_mm += by_mm / 2.0;
            return bolts_up(result);
        };
        std::vector<std::size_t> all(pairs.size());
        std::iota(all.begin(), all.end(), 0);
        RC_ASSERT(opened(all, open.all_alike_mm + 1e-8) && !opened(all, open.all_alike_mm - 1e-3));
        RC_ASSERT(opened(open.some, open.some_mm + 1e-8) && !opened(open.some, open.some_mm - 1e-3));
        if (open.one)
            RC_ASSERT(opened({*open.one}, open.one_mm + 1e-8) && !opened({*open.one}, open.one_mm - 1e-3));
        RC_ASSERT(open.some_mm > open.all_alike_mm - 1e-8);
    }));
}

std::vector<Point> uneven_pattern() {
    return {{38.4, 112.6},  {101.7, 67.2},  {118.3, -12.8}, {84.9, -88.1},
            {-9.6, -121.4}, {-96.2, -77.5}, {-119.8, 6.3},  {-71.5, 94.8}};
}

TEST(Pairing, numbers_that_start_elsewhere_are_found) {
    EXPECT_TRUE(rc::check("a shuffled pattern is paired again", [] {
        const std::vector<Point> first = uneven_pattern();
        std::vector<std::size_t> order(first.size());
        std::iota(order.begin(), order.end(), 0);
        order = *rc::gen::map(rc::gen::container<std::vector<int>>(8, rc::gen::arbitrary<int>()),
                              [order](const std::vector<int>& keys) {
                                  auto shuffled = order;
                                  std::stable_sort(shuffled.begin(), shuffled.end(),
                                                   [&](auto a, auto b) { return keys[a] < keys[b]; });
                                  return shuffled;
                              });
        const Motion motion = any_motion();
        std::vector<Point> second(first.size());
        for (std::size_t i = 0; i < first.size(); ++i)
            second[order[i]] = moved(motion, first[i] + any_point(0.1));
        const std::vector<double> slacks(first.size(), 0.5);
        const auto found = find_pairing(first, second, slacks, false);
        RC_ASSERT(found.has_value());
        RC_ASSERT(found->second_of == order);
        RC_ASSERT(found->fit.possible());
    }));
}

TEST(Pairing, a_mirror_image_is_found_as_one_only) {
    const std::vector<Point> first = uneven_pattern();
    std::vector<Point> second;
    for (const Point& place : first) second.push_back(plan::turned({-place.x_mm, place.y_mm}, 0.7));
    const std::vector<double> slacks(first.size(), 0.5);
    const auto as_seen = find_pairing(first, second, slacks, false);
    EXPECT_FALSE(as_seen && as_seen->fit.possible());
    const auto mirrored = find_pairing(first, second, slacks, true);
    ASSERT_TRUE(mirrored);
    EXPECT_TRUE(mirrored->mirrored);
    EXPECT_NEAR(mirrored->fit.least_clearance_mm, 0.5, 1e-9);
}

TEST(Pairing, equal_numbers_stand_where_they_serve_as_well) {
    std::vector<Point> circle;
    for (int i = 0; i < 12; ++i)
        circle.push_back({190.5 * std::cos(pi * i / 6), 190.5 * std::sin(pi * i / 6)});
    const auto found = find_pairing(circle, circle, std::vector<double>(12, 0.5), false);
    ASSERT_TRUE(found);
    for (std::size_t i = 0; i < 12; ++i) EXPECT_EQ(found->second_of[i], i);
}

TEST(PositionTolerance, worked_examples_of_the_standard) {
    // ASME Y14.5M-1994, appendix B: F 6, H 6.44: fixed 0.22 each (found), floating 0.44 (from memory; twice
    // the found value).
    const HoleAndFastener example{6.44, 6.44 + 0.25, 6.0};
    EXPECT_NEAR(position_tolerance(example, Fastening::fixed).at_most_material_mm, 0.22, 1e-12);
    EXPECT_NEAR(position_tolerance(example, Fastening::floating).at_most_material_mm, 0.44, 1e-12);
    // At its upper limit the hole's zone has grown by what the hole has.
    EXPECT_NEAR(position_tolerance(example, Fastening::fixed).at_least_material_mm, 0.47, 1e-12);
    EXPECT_NEAR(position_tolerance(example, Fastening::floating).at_least_material_mm, 0.69, 1e-12);
    // An exercise, found as a fragment, its arithmetic checked: floating, F 10, T 0.50: H 10.50.
    EXPECT_NEAR(least_hole_mm(10.0, 0.5, 0.5, Fastening::floating), 10.5, 1e-12);
    // The standard's form for unequal zones: H = F + T1 + T2.
    EXPECT_NEAR(least_hole_mm(6.0, 0.18, 0.26, Fastening::fixed), 6.44, 1e-12);
}

TEST(PositionTolerance, parts_at_the_edge_of_their_zones_just_bolt_up) {
    // Every hole and stud off by the radius of its zone, in the worst way: what the formulas promise is what
    // the fit finds, and a hair more is too much.
    for (const double more : {0.0, 1e-6}) {
        const double zone =
            position_tolerance({6.44, 6.44, 6.0}, Fastening::fixed).at_most_material_mm + more;
        Pairs pairs;
        for (const double side : {-1.0, 1.0})
            pairs.push_back({{side * (50.0 + zone / 2), 0.0}, {side * (50.0 - zone / 2), 0.0}, 0.22});
        EXPECT_EQ(best_fit(pairs).possible(), more == 0.0);
    }
}

double normal_share(double deviations) { return 0.5 * std::erfc(-deviations / std::numbers::sqrt2); }

TEST(BoltingOdds, two_holes_in_closed_form) {
    // Two fasteners bolt up where their distances differ by no more than both slacks. With doubt along the
    // line between them only, the distance is normal.
    const double sigma = 0.2, differ = 0.15;
    const Pairs pairs{{{0, 0}, {0, 0}, 0.1}, {{100.0 + differ, 0}, {100, 0}, 0.15}};
    Doubt doubt;
    doubt.covariance_mm2.assign(16, 0.0);
    doubt.covariance_mm2[0] = doubt.covariance_mm2[10] = sigma * sigma / 2.0;
    const Odds odds = odds_of(pairs, doubt);
    const double expected = normal_share((0.25 - differ) / sigma) - normal_share((-0.25 - differ) / sigma);
    EXPECT_NEAR(odds.probability, expected, 4.0 * odds.standard_error);
    EXPECT_NEAR(odds.standard_error, std::sqrt(expected * (1.0 - expected) / 200'000), 1e-5);
    // Ends that move together don't change the distance.
    doubt.covariance_mm2[2] = doubt.covariance_mm2[8] = sigma * sigma / 2.0;
    EXPECT_EQ(odds_of(pairs, doubt).probability, 1.0);
}

TEST(BoltingOdds, made_holes_in_closed_form) {
    // Far apart, only the doubt along the line counts: a zone of diameter d is d / 6 along each axis.
    const Pairs pairs{{{0, 0}, {0, 0}, 0.05}, {{10'000, 0}, {10'000, 0}, 0.05}};
    Doubt doubt;
    doubt.made_within_mm = 0.3;
    const double sigma = 0.05 * std::numbers::sqrt2;
    const double expected = 1.0 - 2.0 * normal_share(-0.1 / sigma);
    const Odds odds = odds_of(pairs, doubt);
    EXPECT_NEAR(odds.probability, expected, 4.0 * odds.standard_error);
}

TEST(BoltingOdds, the_same_seed_gives_the_same_figure) {
    const Pairs pairs{{{0, 0}, {0, 0}, 0.05}, {{100, 0}, {100, 0}, 0.05}, {{0, 100}, {0, 100}, 0.05}};
    Doubt doubt;
    doubt.made_within_mm = 0.3;
    doubt.samples = 5000;
    const double first = odds_of(pairs, doubt).probability;
    EXPECT_EQ(odds_of(pairs, doubt).probability, first);
    doubt.seed = 2;
    EXPECT_NE(odds_of(pairs, doubt).probability, first);
}

}  // namespace

}  // namespace fitup::calculations
