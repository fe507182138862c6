// Patterns that bolt up, and clocking, in process. The straightforward way stands beside each.
#include <benchmark/benchmark.h>

#include <cmath>
#include <fstream>
#include <nlopt.hpp>
#include <numbers>
#include <random>
#include <sstream>

#include "calculations/bolting.hpp"
#include "calculations/bolting_odds.hpp"
#include "calculations/clocking.hpp"
#include "plan/vector.hpp"
#include "rules/rules.hpp"

namespace fitup {
namespace {

using namespace calculations;
using plan::Point;

/// 24 holes on a circle, each up to 0.3 mm off each way, the second pattern elsewhere.
std::vector<FastenerPair> holes(int count) {
    std::mt19937 engine(3);
    std::uniform_real_distribution<double> off(-0.3, 0.3);
    std::vector<FastenerPair> pairs;
    for (int i = 0; i < count; ++i) {
        const double angle = 2.0 * std::numbers::pi * i / count;
        const Point place{190.0 * std::cos(angle), 190.0 * std::sin(angle)};
        pairs.push_back({place, plan::turned(place + Point{off(engine), off(engine)}, 0.02), 0.5});
    }
    return pairs;
}

/// Wanted for 24: under 2 ms.
void minimax_fit(benchmark::State& state) {
    const auto pairs = holes(int(state.range(0)));
    for (auto _ : state) benchmark::DoNotOptimize(best_fit(pairs).least_clearance_mm);
    state.counters["clearance_um"] = 1000.0 * best_fit(pairs).least_clearance_mm;
}
BENCHMARK(minimax_fit)->Arg(8)->Arg(24)->Arg(200)->Unit(benchmark::kMicrosecond);

double least_clearance(const std::vector<FastenerPair>& pairs, const std::vector<double>& at) {
    double least = 1e9;
    for (const FastenerPair& pair : pairs) {
        const Point there = plan::turned(pair.second_mm, at[2]) + Point{at[0], at[1]};
        least = std::min(least, pair.slack_mm - plan::length(pair.first_mm - there));
    }
    return least;
}

/// The same by a general optimiser without derivatives, which proves nothing.
void minimax_fit_by_general_optimiser(benchmark::State& state) {
    auto pairs = holes(int(state.range(0)));
    double clearance = 0.0;
    for (auto _ : state) {
        nlopt::opt search(nlopt::LN_SBPLX, 3);
        search.set_max_objective(
            [](const std::vector<double>& at, std::vector<double>&, void* data) {
                return least_clearance(*static_cast<std::vector<FastenerPair>*>(data), at);
            },
            &pairs);
        search.set_ftol_abs(1e-10);
        search.set_initial_step({0.1, 0.1, 0.001});
        search.set_maxeval(200'000);
        std::vector<double> at{0.0, 0.0, -0.02};
        search.optimize(at, clearance);
        benchmark::DoNotOptimize(clearance);
    }
    state.counters["clearance_um"] = 1000.0 * clearance;
}
BENCHMARK(minimax_fit_by_general_optimiser)->Arg(8)->Arg(24)->Unit(benchmark::kMicrosecond);

/// The chance of 24 holes under doubt, every sample with its own best fit.
void odds(benchmark::State& state) {
    auto pairs = holes(24);
    Doubt doubt;
    doubt.made_within_mm = 0.4;
    doubt.samples = 200'000;
    for (auto _ : state) benchmark::DoNotOptimize(odds_of(pairs, doubt).probability);
}
BENCHMARK(odds)->Unit(benchmark::kMillisecond)->UseRealTime();

Clocking demo() {
    std::ifstream file(FITUP_EXAMPLES "/winch-adapter.json");
    std::ostringstream bytes;
    bytes << file.rdbuf();
    auto document =
        std::make_shared<const parameters::Document>(parameters::read_json(bytes.str(), "plate.json"));
    parts::Reader reader(*document, parts::units_of(*document));
    return {"demo", "",    "", ClockedPlate(document, parts::read_adapter_plate(reader), {1, 2}),
            0.0,    360.0, {}};
}

/// All of it: best turn, passing turns, curve, the plate planned and judged anew. Wanted: under 0.5 s.
void clocking(benchmark::State& state) {
    const Clocking demo_clocking = demo();
    double web = 0.0;
    for (auto _ : state) web = work_out(demo_clocking, [](std::string_view) {}).best.metal.web_mm;
    state.counters["web_um"] = 1000.0 * web;
}
BENCHMARK(clocking)->Unit(benchmark::kMillisecond);

/// The same by planning the plate at every hundredth of a degree and measuring all its cuts: a hundredth of
/// the turns.
void clocking_by_planning_at_every_step(benchmark::State& state) {
    const Clocking demo_clocking = demo();
    for (auto _ : state) {
        for (int i = 0; i < 360; ++i) {
            const plan::Plan plan = *demo_clocking.plate.plan({double(i), {}, {}});
            benchmark::DoNotOptimize(rules::judge(plan).size());
        }
    }
}
BENCHMARK(clocking_by_planning_at_every_step)->Unit(benchmark::kMillisecond)->Iterations(1);

}  // namespace
}  // namespace fitup

BENCHMARK_MAIN();
