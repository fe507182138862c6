// An offset arm's make beside an empty plate's, whole processes in turn. Every run checks its answer; none
// judges its time.
#include <benchmark/benchmark.h>
#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>

#include <chrono>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <stdexcept>

#include "base/file.hpp"
#include "exchange/make.hpp"
#include "parts/kinds.hpp"

extern char** environ;

namespace fitup::bench {
namespace {

namespace fs = std::filesystem;

const fs::path& folder() {
    static const fs::path path = [] {
        std::string pattern = (fs::temp_directory_path() / "fitup-arm-bench-XXXXXX").string();
        return fs::path(::mkdtemp(pattern.data()));
    }();
    return path;
}

std::string put(const std::string& name, const std::string& text) {
    const fs::path path = folder() / name;
    std::ofstream(path) << text;
    return path.string();
}

std::string empty_plate() {
    return put("plate.json", R"({"format": 1, "part": "adapter_plate", "name": "plate", "units": "mm",
 "material": "mild steel", "thickness": 6, "outline": {"round": {"diameter": 100}}})");
}

/// 0: flat, a plain bar; 1: joggled, with a boss; 2: clamped as well.
std::string arm(int kind) {
    const char* const joggle =
        kind > 0 ? R"("joggle": {"rise": 9, "start": 27, "run": 24, "inside_radius": 6},)" : "";
    const char* const boss = kind > 0 ? R"(, "boss": {"diameter": 26, "height": 14})" : "";
    const char* const clamp = kind > 1 ? R"(, "clamp": {"slit": 2, "bolt": "M6"})" : "";
    return put("arm.json", std::string(R"({"format": 1, "part": "offset_arm", "name": "arm", "units": "mm",
 "material": "mild steel", "strip": {"width": 22, "thickness": 6}, "length": 86,)") +
                               joggle + R"("pivot": {"bore": 12)" + boss + clamp +
                               R"(}, "eye": {"slot": {"length": 18, "width": 8}}})");
}

/// Seconds of a whole `make`; its output is thrown away.
double make(const std::string& file) {
    std::vector<std::string> words{FITUP_PROGRAM,     "make",    file,     "--to",
                                   folder().string(), "--quiet", "--only", "step,stl,csv"};
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
    if (status != 0) throw std::runtime_error(file + ": make failed");
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

void expect_the_plans_volume(const std::string& file) {
    const parts::Planned planned = parts::plan_file(read_file(file), file);
    const exchange::Body body = exchange::examine(*planned.plan, [](std::string_view) {});
    const double found_mm3 = exchange::measure_file(folder() / "arm.step").volume_mm3;
    if (std::abs(found_mm3 / body.figures.volume_mm3 - 1.0) > 1e-9) throw std::runtime_error("wrong volume");
}

void arm_against_an_empty_plate(benchmark::State& state) {
    const std::string ours = arm(static_cast<int>(state.range(0)));
    const std::string theirs = empty_plate();
    double ours_s = 0.0, theirs_s = 0.0;
    for (auto _ : state) {
        const double seconds = make(ours);
        theirs_s += make(theirs);
        ours_s += seconds;
        state.SetIterationTime(seconds);
    }
    expect_the_plans_volume(ours);
    const auto runs = static_cast<double>(state.iterations());
    state.counters["arm_ms"] = 1e3 * ours_s / runs;
    state.counters["plate_ms"] = 1e3 * theirs_s / runs;
    state.counters["ratio"] = ours_s / theirs_s;
}
BENCHMARK(arm_against_an_empty_plate)
    ->Arg(0)
    ->Arg(1)
    ->Arg(2)
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond)
    ->Iterations(15);

}  // namespace
}  // namespace fitup::bench

BENCHMARK_MAIN();
