// Linkages in process: positions of a chain, solving, sampled builds. The straightforward way stands beside
// each.
#include <benchmark/benchmark.h>

#include <random>

#include "calculations/linkage_builds.hpp"
#include "calculations/linkage_positions.hpp"
#include "calculations/linkage_solve.hpp"
#include "calculations/linkages.hpp"

namespace fitup {
namespace {

using namespace calculations;
using namespace calculations::testing;

const LinkageProgress quiet = [](std::string_view) {};

std::vector<double> inputs() {
    std::mt19937 engine(1);
    std::uniform_real_distribution<double> spread(-0.5, 0.5);
    std::vector<double> all(4096);
    for (double& input : all) input = spread(engine);
    return all;
}

/// Output of a chain of three levers, angles only; wanted: 5 million a second.
void positions(benchmark::State& state) {
    const Linkage linkage = state.range(0) == 0 ? winch() : skew_chain();
    const Chain chain = chain_of(linkage, *branches_of(linkage));
    const std::vector<double> all = inputs();
    for (auto _ : state) {
        double sum = 0.0;
        for (const double input : all) sum += output_rad(chain, input);
        benchmark::DoNotOptimize(sum);
    }
    state.SetItemsProcessed(state.iterations() * std::int64_t(all.size()));
}
BENCHMARK(positions)->Arg(0)->Arg(1)->ArgName("skew");

/// The same by halving the angle until the rod fits, as one does without the closed form.
void positions_by_halving(benchmark::State& state) {
    const Linkage linkage = winch();
    const Chain chain = chain_of(linkage, *branches_of(linkage));
    const std::vector<double> all = inputs();
    const auto driven_angle = [&](std::size_t i, const fitup::Vector& pin, double exact) {
        double low = exact - 0.2, high = exact + 0.3;
        const auto miss = [&](double angle) {
            return length(pin - joint(linkage.levers[i + 1], linkage.levers[i + 1].arm_in, {}, angle)) -
                   linkage.rods[i].length.value;
        };
        const bool rising = miss(high) > miss(low);
        for (int k = 0; k < 45; ++k) {
            const double middle = (low + high) / 2;
            ((miss(middle) > 0.0) == rising ? high : low) = middle;
        }
        return low;
    };
    for (auto _ : state) {
        double sum = 0.0;
        for (std::size_t n = 0; n < 64; ++n) {
            const Pose pose = pose_at(chain, all[n]);
            double angle = all[n];
            for (std::size_t i = 0; i < 2; ++i) {
                const Lever& from = linkage.levers[i];
                const double more = i > 0 ? from.angle_between.value * rad : 0.0;
                const fitup::Vector pin = joint(from, from.arm_out, {}, angle + more);
                angle = driven_angle(i, pin, std::atan2(pose.turns[i + 1].sin, pose.turns[i + 1].cos));
            }
            sum += angle;
        }
        benchmark::DoNotOptimize(sum);
    }
    state.SetItemsProcessed(state.iterations() * 64);
}
BENCHMARK(positions_by_halving);

/// Three unknowns; wanted: under 0.2 s.
void solve_three(benchmark::State& state) {
    const Linkage linkage = winch_to_solve();
    for (auto _ : state) benchmark::DoNotOptimize(solve(linkage, quiet)->worst_normalised);
}
BENCHMARK(solve_three)->Unit(benchmark::kMillisecond);

/// The same by the best of a grid of 61 a side, which is still 0.4 mm coarse.
void solve_three_by_grid(benchmark::State& state) {
    Linkage linkage = winch_to_solve();
    const std::vector<Variation> unknowns = unknowns_of(linkage);
    for (auto _ : state) {
        double least = 1e9;
        for (int i = 0; i <= 60; ++i) {
            for (int j = 0; j <= 60; ++j) {
                for (int k = 0; k <= 60; ++k) {
                    const int at[3] = {i, j, k};
                    for (std::size_t m = 0; m < 3; ++m) {
                        const Bounds between = *dimension_of(linkage, unknowns[m]).between;
                        set_value(linkage, unknowns[m],
                                  between.least + (between.most - between.least) * at[m] / 60);
                    }
                    least = std::min(least, worst_of(linkage));
                }
            }
        }
        benchmark::DoNotOptimize(least);
    }
}
BENCHMARK(solve_three_by_grid)->Unit(benchmark::kMillisecond)->Iterations(1);

/// A million builds of the demo at five positions, set at one of them or not; wanted: under 1.5 s on two
/// cores.
void million_builds(benchmark::State& state) {
    Linkage linkage = winch();
    linkage.builds = 1'000'000;
    if (state.range(0) != 0) linkage.rods[0].adjust = Adjust{"1/4-28 UNF", 25.4 / 28, false, 0.5, 6, 6};
    const auto branches = *branches_of(linkage);
    for (auto _ : state) benchmark::DoNotOptimize(sample_builds(linkage, branches, 2).all_select);
}
BENCHMARK(million_builds)->Arg(0)->Arg(1)->ArgName("adjusts")->Unit(benchmark::kMillisecond)->UseRealTime();

/// The same, each build a linkage of its own; a hundredth of them.
void ten_thousand_builds_plainly(benchmark::State& state) {
    const Linkage linkage = winch();
    const auto branches = *branches_of(linkage);
    std::mt19937_64 engine(7);
    std::uniform_real_distribution<double> spread(-1.0, 1.0);
    for (auto _ : state) {
        int good = 0;
        for (int i = 0; i < 10'000; ++i) {
            Linkage build = linkage;
            for (const Toleranced& size : toleranced_of(linkage))
                set_value(build, size.variation,
                          value_of(linkage, size.variation) + size.tolerance_mm * spread(engine));
            bool all = true;
            for (const PositionResult& position : positions_of(build, chain_of(build, branches)))
                all = all && position.verdict == Verdict::selects;
            good += all ? 1 : 0;
        }
        benchmark::DoNotOptimize(good);
    }
}
BENCHMARK(ten_thousand_builds_plainly)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace fitup

BENCHMARK_MAIN();
