// One inch of 1/4-28 thread from its faces, and by sweeping a groove along a helix and cutting it from a
// cylinder: the kernel's usual way. Each run checks its answer; none judges its time.
#include <benchmark/benchmark.h>

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepGProp.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <GProp_GProps.hxx>
#include <chrono>
#include <cmath>
#include <functional>
#include <numbers>
#include <stdexcept>

#include "bench/swept_groove.hpp"
#include "solid/threads.hpp"

namespace fitup::bench {
namespace {

constexpr double inch_mm = 25.4;
constexpr int inch_turns = 28;

plan::ThreadedLength unf(double turns) {
    const double pitch_mm = inch_mm / 28.0;
    return {plan::thread_form(plan::ThreadProfile::iso_and_unified, inch_mm / 4.0, pitch_mm),
            plan::ThreadSide::external, plan::Hand::right, turns * pitch_mm, plan::ThreadEnd::run_out};
}

double volume_mm3(const TopoDS_Shape& shape) {
    GProp_GProps properties;
    BRepGProp::VolumeProperties(shape, properties);
    return properties.Mass();
}

void expect_volume(const TopoDS_Shape& shape, double exact_mm3, double relative) {
    if (std::abs(volume_mm3(shape) / exact_mm3 - 1.0) > relative) throw std::runtime_error("wrong volume");
}

/// The whole length of a bar, cut square at both ends.
TopoDS_Shape cut_thread(const plan::ThreadForm& form, int turns) {
    const TopoDS_Shape bar = BRepPrimAPI_MakeCylinder(form.major_radius_mm(), turns * form.pitch_mm).Shape();
    return BRepAlgoAPI_Cut(bar, swept_groove(form, turns)).Shape();
}

double seconds(const std::function<void()>& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

void faces_against_cut(benchmark::State& state) {
    const plan::ThreadedLength of = unf(inch_turns);
    double ours_s = 0.0, theirs_s = 0.0;
    TopoDS_Shape ours, theirs;
    for (auto _ : state) {
        const double a = seconds([&] { ours = solid::threaded_stud(of, 5.0); });
        theirs_s += seconds([&] { theirs = cut_thread(of.form, inch_turns); });
        ours_s += a;
        state.SetIterationTime(a);
    }
    expect_volume(ours, solid::stud_mm3(of, 5.0), 1e-6);
    // Both ends cut square: every section is the same. The sweep is approximate.
    expect_volume(theirs, of.form.section_mm2() * of.length_mm, 1e-5);
    const auto runs = static_cast<double>(state.iterations());
    state.counters["ours_ms"] = 1e3 * ours_s / runs;
    state.counters["theirs_ms"] = 1e3 * theirs_s / runs;
    state.counters["ratio"] = ours_s / theirs_s;
}
BENCHMARK(faces_against_cut)->UseManualTime()->Unit(benchmark::kMillisecond)->Iterations(1);

void turns(benchmark::State& state) {
    const plan::ThreadedLength of = unf(static_cast<double>(state.range(0)));
    TopoDS_Shape stud;
    for (auto _ : state) stud = solid::threaded_stud(of, 5.0);
    expect_volume(stud, solid::stud_mm3(of, 5.0), 1e-6);
    state.SetComplexityN(state.range(0));
}
BENCHMARK(turns)->RangeMultiplier(4)->Range(4, 1024)->Unit(benchmark::kMillisecond)->Complexity();

}  // namespace
}  // namespace fitup::bench

BENCHMARK_MAIN();
