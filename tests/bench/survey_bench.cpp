// A bench survey in process: 24 holes and 60 spans, free network with covariance. The straightforward way
// stands beside it.
#include <benchmark/benchmark.h>

#include <Eigen/Dense>
#include <numbers>

#include "calculations/surveys.hpp"

namespace fitup {
namespace {

using namespace calculations;
using namespace calculations::testing;
using Eigen::MatrixXd;
using Eigen::VectorXd;

/// A circle of 24 holes, each a little off its place.
std::vector<plan::Point> holes() {
    std::vector<plan::Point> at;
    for (int i = 0; i < 24; ++i) {
        const double angle = 2.0 * std::numbers::pi * i / 24, radius = 190.5 + 0.7 * (i % 5);
        at.push_back({radius * std::cos(angle), radius * std::sin(angle)});
    }
    return at;
}

/// From each hole to the next two, and twelve across.
Survey sixty_spans() {
    const auto at = holes();
    Survey survey = spans_survey(at, 2);
    for (int i = 0; i < 12; ++i) add_span(survey, i, i + 12, span(at, i, i + 12));
    std::mt19937_64 engine(6);
    disturb(survey, engine);
    return survey;
}

/// Wanted: under 5 ms, with everything that is told of the readings.
void survey_of_24(benchmark::State& state) {
    const Survey survey = sixty_spans();
    if (survey.readings.size() != 60) state.SkipWithError("not sixty spans");
    for (auto _ : state) benchmark::DoNotOptimize(adjust(survey).fit->covariance_mm2.data());
}
BENCHMARK(survey_of_24)->Unit(benchmark::kMicrosecond);

/// As a simulation calls it.
void survey_of_24_adjusted_only(benchmark::State& state) {
    const Survey survey = sixty_spans();
    for (auto _ : state) benchmark::DoNotOptimize(adjust(survey, {false, false}).fit->covariance_mm2.data());
}
BENCHMARK(survey_of_24_adjusted_only)->Unit(benchmark::kMicrosecond);

/// With one span read in inches, found and named.
void survey_of_24_with_a_blunder(benchmark::State& state) {
    Survey survey = sixty_spans();
    Reading& wrong = survey.readings[20];
    wrong.value = wrong.written[0] = wrong.value / 25.4;
    for (auto _ : state) {
        const auto fit = adjust(survey).fit;
        if (!fit || fit->suspects.size() != 1 || fit->suspects[0].reading != 20)
            state.SkipWithError("not found");
    }
}
BENCHMARK(survey_of_24_with_a_blunder)->Unit(benchmark::kMillisecond);

VectorXd misfits(const Survey& survey, const VectorXd& x) {
    VectorXd all(Eigen::Index(survey.readings.size()));
    for (std::size_t i = 0; i < survey.readings.size(); ++i) {
        const Reading& r = survey.readings[i];
        all[Eigen::Index(i)] =
            (r.value - std::hypot(x[2 * r.b] - x[2 * r.a], x[2 * r.b + 1] - x[2 * r.a + 1])) / r.sigma;
    }
    return all;
}

/// Gauss-Newton with numerical derivatives, the full normal equations and their explicit inverse; three
/// coordinates kept. It needs places to start from (here the true ones), tests no reading, finds
/// no other axes, and its derivatives are too coarse to settle finer than 1e-5 mm.
void the_straightforward_way(benchmark::State& state) {
    const Survey survey = sixty_spans();
    const auto at = as_spans_alone(holes());
    std::vector<Eigen::Index> unknown{2};
    for (Eigen::Index i = 4; i < 48; ++i) unknown.push_back(i);
    const auto n = Eigen::Index(unknown.size());
    for (auto _ : state) {
        VectorXd x(48);
        for (std::size_t i = 0; i < at.size(); ++i) {
            x[Eigen::Index(2 * i)] = at[i].x_mm;
            x[Eigen::Index(2 * i + 1)] = at[i].y_mm;
        }
        MatrixXd covariance;
        double step = 1.0;
        for (int i = 0; i < 30 && step > 1e-5; ++i) {
            const VectorXd here = misfits(survey, x);
            MatrixXd rates(here.size(), n);
            for (Eigen::Index j = 0; j < n; ++j) {
                VectorXd more = x;
                more[unknown[std::size_t(j)]] += 1e-5;
                rates.col(j) = (here - misfits(survey, more)) / 1e-5;
            }
            covariance = (rates.transpose() * rates).inverse();
            const VectorXd change = covariance * (rates.transpose() * here);
            for (Eigen::Index j = 0; j < n; ++j) x[unknown[std::size_t(j)]] += change[j];
            step = change.lpNorm<Eigen::Infinity>();
        }
        if (step > 1e-5) state.SkipWithError("not settled");
        benchmark::DoNotOptimize(covariance.data());
    }
}
BENCHMARK(the_straightforward_way)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace fitup

BENCHMARK_MAIN();
