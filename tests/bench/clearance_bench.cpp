// Certified swing clearance of a thousand offset arms beside the kernel's shape distance at each whole
// degree.
#include <benchmark/benchmark.h>

#include <BRepBuilderAPI_Transform.hxx>
#include <BRepExtrema_DistShapeShape.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRep_Builder.hxx>
#include <TopoDS_Compound.hxx>
#include <chrono>
#include <gp_Ax1.hxx>
#include <gp_Ax2.hxx>
#include <iostream>

#include "calculations/swing.hpp"
#include "exchange/kernel.hpp"
#include "parts/kinds.hpp"
#include "plan/skin.hpp"
#include "solid/solid.hpp"
#include "solid/solid_impl.hpp"

namespace {

using namespace fitup;

constexpr int candidates = 1000, kernel_candidates = 20;
constexpr int first_deg = -31, last_deg = 30;

/// An arm like the demo's with this rise, beside three obstacles.
plan::Plan arm(int candidate) {
    const double rise_mm = 4.0 + 8.0 * candidate / candidates;
    const std::string text = R"({"format": 1, "part": "offset_arm", "name": "arm", "units": "mm",
        "material": "mild steel", "strip": {"width": 22, "thickness": 6}, "length": 86, "pivot": {"bore": 12},
        "joggle": {"rise": )" +
                             std::to_string(rise_mm) + R"(, "start": 27, "run": 24, "inside_radius": 9},
        "eye": {"bore": 6.4}, "swing": {"from": -31, "to": 30}, "clearance": 1,
        "keep_clear": [
          {"name": "cover screw", "cylinder": {"from": [70, 22, -20], "to": [70, 22, 4], "diameter": 10}},
          {"name": "cover wall", "box": {"from": [-60, -80, -10], "to": [110, -62, 30]}},
          {"name": "post", "cylinder": {"from": [40, 70, -20], "to": [55, 66, 40], "diameter": 8}}]})";
    return *parts::plan_file(text, "arm.json").plan;
}

std::vector<calculations::ObstacleShape> obstacles_of(const plan::Swing& swing) {
    std::vector<calculations::ObstacleShape> shapes;
    for (const plan::Obstacle& obstacle : swing.keep_clear) {
        if (const auto* bar = std::get_if<plan::RoundBar>(&obstacle.shape))
            shapes.push_back(calculations::shape_of(obstacle.name, *bar));
        else
            shapes.push_back(calculations::shape_of(obstacle.name, std::get<plan::Block>(obstacle.shape)));
    }
    return shapes;
}

TopoDS_Shape kernel_obstacles(const plan::Swing& swing) {
    BRep_Builder builder;
    TopoDS_Compound all;
    builder.MakeCompound(all);
    const auto point = [](const Vector& v) { return gp_Pnt(v[0], v[1], v[2]); };
    for (const plan::Obstacle& obstacle : swing.keep_clear) {
        if (const auto* bar = std::get_if<plan::RoundBar>(&obstacle.shape)) {
            const gp_Vec along(point(bar->from), point(bar->to));
            builder.Add(all, BRepPrimAPI_MakeCylinder(gp_Ax2(point(bar->from), gp_Dir(along)),
                                                      bar->diameter_mm / 2, along.Magnitude())
                                 .Shape());
        } else {
            const auto& block = std::get<plan::Block>(obstacle.shape);
            builder.Add(all, BRepPrimAPI_MakeBox(point(block.least), point(block.most)).Shape());
        }
    }
    return all;
}

/// Least distance over whole degrees; what lies between them it does not see.
double kernel_least(const TopoDS_Shape& shape, const TopoDS_Shape& obstacles) {
    double least = 1e9;
    for (int deg = first_deg; deg <= last_deg; ++deg) {
        gp_Trsf turn;
        turn.SetRotation(gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)), deg * 3.14159265358979323846 / 180);
        BRepExtrema_DistShapeShape distance(shape.Moved(TopLoc_Location(turn)), obstacles);
        least = std::min(least, distance.Value());
    }
    return least;
}

double seconds_since(std::chrono::steady_clock::time_point start) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

void thousand_arms_against_the_kernel(benchmark::State& state) {
    std::vector<plan::Plan> plans;
    for (int i = 0; i < candidates; ++i) plans.push_back(arm(i));
    const auto obstacles = obstacles_of(*plans.front().swing);
    const TopoDS_Shape kernel_scene = kernel_obstacles(*plans.front().swing);
    for (auto _ : state) {
        auto start = std::chrono::steady_clock::now();
        double least = 1e9;
        for (const plan::Plan& plan : plans) {
            for (const auto& one : calculations::swing_clearances(plan, obstacles))
                least = std::min(least, one.least_mm);
        }
        const double ours_s = seconds_since(start);
        double theirs_s = 0.0;
        for (int i = 0; i < kernel_candidates; ++i) {
            const plan::Plan& plan = plans[std::size_t(i * candidates / kernel_candidates)];
            const auto skin = plan::skin(plan);
            const solid::Built built = solid::build(plan, skin);
            start = std::chrono::steady_clock::now();
            benchmark::DoNotOptimize(kernel_least(solid::body_of(*built.solid).shape, kernel_scene));
            theirs_s += seconds_since(start);
        }
        theirs_s *= double(candidates) / kernel_candidates;
        benchmark::DoNotOptimize(least);
        state.SetIterationTime(ours_s);
        state.counters["ours_ms_each"] = ours_s;
        state.counters["theirs_s"] = theirs_s;
        state.counters["ratio"] = ours_s / theirs_s;
    }
}
BENCHMARK(thousand_arms_against_the_kernel)->UseManualTime()->Iterations(1)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
