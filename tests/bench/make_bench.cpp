// Whole processes in pairs, and the work in process. Every run checks its answer; none judges its time.
#include <benchmark/benchmark.h>
#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>

#include <chrono>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <stdexcept>

#include "base/file.hpp"
#include "base/text.hpp"
#include "exchange/make.hpp"
#include "parts/kinds.hpp"
#include "rules/rules.hpp"
#include "sunflower.hpp"

extern char** environ;

namespace fitup::bench {
namespace {

namespace fs = std::filesystem;

const fs::path& folder() {
    static const fs::path path = [] {
        std::string pattern = (fs::temp_directory_path() / "fitup-bench-XXXXXX").string();
        return fs::path(::mkdtemp(pattern.data()));
    }();
    return path;
}

std::string parameter_file(int count) {
    std::string text =
        R"({"format": 1, "part": "adapter_plate", "name": "sunflower", "units": "mm", "material": "aluminium 6061-T6",
 "thickness": 40, "outline": {"round": {"diameter": 800}}, "bore": {"diameter": 150},
 "patterns": [{"name": "seed", "seen_from": "B", "hole": {"kind": "drilled", "diameter": 9}, "points": [)";
    bool first = true;
    for (const Seed& seed : seeds(count)) {
        text += std::string(first ? "" : ",") + "[" + shortest_text(seed.x_mm) + "," +
                shortest_text(seed.y_mm) + "]";
        first = false;
    }
    const fs::path path = folder() / ("sunflower-" + std::to_string(count) + ".json");
    std::ofstream(path) << text << "]}]}";
    return path.string();
}

/// Seconds of a whole process; its output is thrown away.
double run(std::vector<std::string> words) {
    std::vector<char*> arguments;
    for (std::string& word : words) arguments.push_back(word.data());
    arguments.push_back(nullptr);
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", O_WRONLY, 0);
    posix_spawn_file_actions_addopen(&actions, 2, "/dev/null", O_WRONLY, 0);
    const auto start = std::chrono::steady_clock::now();
    pid_t child = 0;
    int status = -1;
    if (::posix_spawn(&child, arguments[0], &actions, nullptr, arguments.data(), environ) != 0)
        throw std::runtime_error("no process");
    ::waitpid(child, &status, 0);
    posix_spawn_file_actions_destroy(&actions);
    if (status != 0) throw std::runtime_error(words.front() + " failed");
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

double closed_form_mm3(int count) {
    return std::numbers::pi / 4.0 * thickness_mm *
           (disc_mm * disc_mm - bore_mm * bore_mm - (count - 1) * hole_mm * hole_mm);
}

void expect_volume(const fs::path& step, int count) {
    const double volume_mm3 = exchange::measure_file(step).volume_mm3;
    if (std::abs(volume_mm3 / closed_form_mm3(count) - 1.0) > 1e-9)
        throw std::runtime_error(step.string() + ": wrong volume");
}

/// Two commands in turn; the counters are means over the iterations, and their ratio.
void pair(benchmark::State& state, const std::vector<std::string>& ours,
          const std::vector<std::string>& theirs) {
    double ours_s = 0.0, theirs_s = 0.0;
    for (auto _ : state) {
        const double a = run(ours);
        const double b = run(theirs);
        ours_s += a;
        theirs_s += b;
        state.SetIterationTime(a);
    }
    const auto runs = static_cast<double>(state.iterations());
    state.counters["ours_ms"] = 1e3 * ours_s / runs;
    state.counters["theirs_ms"] = 1e3 * theirs_s / runs;
    state.counters["ratio"] = ours_s / theirs_s;
}

void make_against_straightforward(benchmark::State& state) {
    const int count = static_cast<int>(state.range(0));
    const std::string file = parameter_file(count);
    const std::string stem = (folder() / "straightforward").string();
    pair(state, {FITUP_PROGRAM, "make", file, "--to", folder().string(), "--quiet", "--only", "step,stl,csv"},
         {STRAIGHTFORWARD, std::to_string(count), stem});
    expect_volume(folder() / "sunflower.step", count);
    expect_volume(stem + ".step", count);
}
BENCHMARK(make_against_straightforward)
    ->Arg(24)
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond)
    ->Iterations(9);
BENCHMARK(make_against_straightforward)
    ->Arg(600)
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond)
    ->Iterations(3);

void check_against_make(benchmark::State& state) {
    const std::string file = parameter_file(static_cast<int>(state.range(0)));
    pair(state, {FITUP_PROGRAM, "check", file, "--quiet"},
         {FITUP_PROGRAM, "make", file, "--to", folder().string(), "--quiet", "--only", "step,stl,csv"});
}
BENCHMARK(check_against_make)
    ->Arg(24)
    ->Arg(600)
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond)
    ->Iterations(9);

/// All papers but the mock-up on top of STEP and STL: they may take as long again, a ratio of 2.
void papers_on_top_of_step_and_stl(benchmark::State& state) {
    const std::string file = parameter_file(static_cast<int>(state.range(0)));
    const std::string papers = "step,stl,csv,dxf,template,sheets,drawing,fasteners,order,report";
    pair(state, {FITUP_PROGRAM, "make", file, "--to", folder().string(), "--quiet", "--only", papers},
         {FITUP_PROGRAM, "make", file, "--to", folder().string(), "--quiet", "--only", "step,stl"});
}
BENCHMARK(papers_on_top_of_step_and_stl)
    ->Arg(24)
    ->Arg(600)
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond)
    ->Iterations(9);

/// What the file for printing costs on top.
void threemf_beside_step_and_stl(benchmark::State& state) {
    const std::string file = parameter_file(static_cast<int>(state.range(0)));
    pair(state, {FITUP_PROGRAM, "make", file, "--to", folder().string(), "--quiet", "--only", "step,stl,3mf"},
         {FITUP_PROGRAM, "make", file, "--to", folder().string(), "--quiet", "--only", "step,stl"});
}
BENCHMARK(threemf_beside_step_and_stl)
    ->Arg(24)
    ->Arg(600)
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond)
    ->Iterations(5);

/// What loading the kernel's libraries on demand spares every command that needs none.
void help_against_an_empty_kernel_program(benchmark::State& state) {
    pair(state, {FITUP_PROGRAM, "--version"}, {EMPTY_KERNEL});
}
BENCHMARK(help_against_an_empty_kernel_program)
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond)
    ->Iterations(15);

std::string empty_plate_file() {
    const fs::path path = folder() / "empty.json";
    std::ofstream(path)
        << R"({"format": 1, "part": "adapter_plate", "name": "empty", "units": "mm", "material": "mild steel",
 "thickness": 8, "outline": {"round": {"diameter": 90}}})";
    return path.string();
}

/// An example of a kind beside a plate without a hole: what its shape costs beyond start, files and reading
/// back.
void make_kind_against_an_empty_plate(benchmark::State& state, const char* example) {
    const std::string file = std::string(FITUP_EXAMPLES) + "/" + example + ".json";
    pair(state, {FITUP_PROGRAM, "make", file, "--to", folder().string(), "--quiet", "--only", "step,stl,csv"},
         {FITUP_PROGRAM, "make", empty_plate_file(), "--to", folder().string(), "--quiet", "--only",
          "step,stl,csv"});
}
BENCHMARK_CAPTURE(make_kind_against_an_empty_plate, bellcrank, "selector-crank")
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond)
    ->Iterations(9);

/// A rod of 1/4 in with an inch of real 1/4-28 thread at each end.
void rod_against_straightforward(benchmark::State& state) {
    const fs::path file = folder() / "threads.json";
    std::ofstream(file) << R"({"format": 1, "part": "threaded_rod", "name": "threads", "units": "in",
 "material": "mild steel", "diameter": 0.25, "length": 12,
 "ends": [{"thread": "1/4-28 UNF", "length": 1, "model_as": "thread"},
          {"thread": "1/4-28 UNF", "length": 1, "model_as": "thread"}]})";
    const std::string stem = (folder() / "straightforward-rod").string();
    pair(state,
         {FITUP_PROGRAM, "make", file.string(), "--to", folder().string(), "--quiet", "--only",
          "step,stl,csv"},
         {STRAIGHTFORWARD_ROD, stem});
    // Theirs has no chamfer, ours no full thread there: alike within a thread's depth at each end.
    const double ours_mm3 = exchange::measure_file(folder() / "threads.step").volume_mm3;
    const double theirs_mm3 = exchange::measure_file(stem + ".step").volume_mm3;
    if (std::abs(ours_mm3 / theirs_mm3 - 1.0) > 0.01) throw std::runtime_error("the rods differ");
}
BENCHMARK(rod_against_straightforward)->UseManualTime()->Unit(benchmark::kMillisecond)->Iterations(3);

plan::Plan plan_of(int count) {
    const std::string file = parameter_file(count);
    parts::Planned planned = parts::plan_file(read_file(file), file);
    if (!planned.plan) throw std::runtime_error(parameters::to_text(planned.faults.front()));
    return *planned.plan;
}

/// Rules, solid, STEP, STL, both read back: everything but the start of the process. Growth from 60 to 600
/// holes shows here.
void make_in_process(benchmark::State& state) {
    const int count = static_cast<int>(state.range(0));
    const plan::Plan plan = plan_of(count);
    exchange::MakeOptions options;
    options.folder = folder();
    const auto silent = [](std::string_view) {};
    exchange::kernel();
    for (auto _ : state) {
        benchmark::DoNotOptimize(rules::judge(plan));
        exchange::Body body = exchange::examine(plan, silent);
        FileSet files;
        benchmark::DoNotOptimize(exchange::make(plan, body, options, files, silent));
        files.publish();
    }
    expect_volume(folder() / "sunflower.step", count);
    state.SetComplexityN(count);
}
BENCHMARK(make_in_process)->Arg(24)->Arg(60)->Arg(600)->Unit(benchmark::kMillisecond)->Complexity();

void judge_in_process(benchmark::State& state) {
    const plan::Plan plan = plan_of(static_cast<int>(state.range(0)));
    for (auto _ : state) benchmark::DoNotOptimize(rules::judge(plan));
}
BENCHMARK(judge_in_process)->Arg(24)->Arg(600)->Arg(1800)->Unit(benchmark::kMillisecond);

void skin_in_process(benchmark::State& state) {
    const int count = static_cast<int>(state.range(0));
    const plan::Plan plan = plan_of(count);
    double volume_mm3 = 0.0;
    for (auto _ : state) volume_mm3 = plan::skin(plan).skin.volume_mm3;
    if (std::abs(volume_mm3 / closed_form_mm3(count) - 1.0) > 1e-12) throw std::runtime_error("wrong volume");
}
BENCHMARK(skin_in_process)->Arg(24)->Arg(600)->Arg(1800)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace fitup::bench

BENCHMARK_MAIN();
