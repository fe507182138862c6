// Random fair arms made, read back and measured: against the closed form, and by their mesh.
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>

#include "base/text.hpp"
#include "exchange/make.hpp"
#include "parts/arms.hpp"
#include "parts/kinds.hpp"
#include "plan/joggle.hpp"
#include "plan/property.hpp"
#include "rules/rules.hpp"

namespace fitup::exchange {
namespace {

using parts::testing::ArmText;

void quiet(std::string_view) {}

std::string text(double value) { return shortest_text(value); }

/// Hundredths of a millimetre, so that failures read well.
double number(double least, double most) {
    return *rc::gen::inRange(int(std::ceil(least * 100)), int(most * 100) + 1) / 100.0;
}

std::string any_pivot(double width_mm, double thickness_mm, double& reach_mm) {
    const double bore_mm = number(4.0, width_mm * 0.6);
    const int kind = *rc::gen::inRange(0, 3);
    std::string pivot = R"({"bore": )" + text(bore_mm);
    reach_mm = width_mm / 2.0;
    if (kind > 0) {
        const double boss_mm = std::max(bore_mm * 1.3, width_mm + number(-4.0, 8.0));
        const double height_mm = std::max(thickness_mm + number(0.0, 10.0), kind > 1 ? 10.0 : 0.0);
        reach_mm = std::max(reach_mm, boss_mm / 2.0);
        pivot += R"(, "boss": {"diameter": )" + text(boss_mm) + R"(, "height": )" + text(height_mm) + "}";
    }
    if (kind > 1) {
        const std::string bolt = *rc::gen::element<std::string>("M4", "M5", "M6", "1/4-28 UNF");
        pivot +=
            R"(, "clamp": {"slit": )" + text(number(0.5, bore_mm * 0.4)) + R"(, "bolt": ")" + bolt + "\"}";
    }
    return pivot + "}";
}

std::string any_eye(double width_mm, double& reach_mm) {
    const double hole_mm = number(3.0, width_mm * 0.55);
    const int kind = *rc::gen::inRange(0, 3);
    reach_mm = hole_mm / 2.0;
    if (kind == 0) return R"({"bore": )" + text(hole_mm) + "}";
    if (kind == 1) return R"({"thread": "M5"})";
    const double length_mm = hole_mm + number(0.5, 15.0);
    reach_mm = length_mm / 2.0;
    return R"({"slot": {"width": )" + text(hole_mm) + R"(, "length": )" + text(length_mm) + "}}";
}

std::string any_arm() {
    const double width_mm = number(12.0, 40.0);
    const double thickness_mm = number(2.0, 10.0);
    double pivot_mm = 0.0, eye_mm = 0.0;
    ArmText arm;
    arm.pivot = any_pivot(width_mm, thickness_mm, pivot_mm);
    arm.eye = any_eye(width_mm, eye_mm);
    arm.strip = R"({"width": )" + text(width_mm) + R"(, "thickness": )" + text(thickness_mm) + "}";
    plan::Joggle joggle;
    joggle.rise_mm = number(0.5, 40.0);
    joggle.inside_radius_mm = number(0.5, 15.0);
    joggle.start_mm = pivot_mm + number(0.01, 20.0);
    joggle.run_mm =
        std::ceil(100.0 * plan::joggle_limits(joggle, thickness_mm).least_run_mm) / 100.0 + number(0.0, 20.0);
    arm.length = text(joggle.start_mm + joggle.run_mm + std::max(eye_mm, 2.5) + number(0.01, 30.0));
    const double sign = *rc::gen::element(1.0, -1.0);
    arm.joggle = R"({"rise": )" + text(sign * joggle.rise_mm) + R"(, "start": )" + text(joggle.start_mm) +
                 R"(, "run": )" + text(joggle.run_mm) + R"(, "inside_radius": )" +
                 text(joggle.inside_radius_mm) + "}";
    return parts::testing::arm_text(arm);
}

/// Of a clamped arm: the slab before slit and bolt, less both in closed form.
double volume_by_hand_mm3(const plan::Plan& plan) {
    if (!plan.arm->clamp) return *plan::slab_volume_mm3(plan);
    plan::Plan whole = plan;
    whole.cross_holes.clear();
    whole.pockets.clear();
    const plan::Clamp& clamp = *plan.arm->clamp;
    const double half = clamp.slit_mm / 2.0;
    const double bore = plan.holes[0].diameter_mm / 2.0;
    const double in_bore = half * std::sqrt(bore * bore - half * half) + bore * bore * std::asin(half / bore);
    double cut = (clamp.slit_mm * clamp.lug_end_mm - in_bore) * clamp.lug_height_mm;
    for (const plan::CrossHole& hole : plan.cross_holes)
        cut += M_PI / 4.0 * hole.diameter_mm * hole.diameter_mm * hole.depth_mm;
    return *plan::slab_volume_mm3(whole) - cut;
}

plan::Plan plan_of(const std::string& file) {
    const parts::Planned planned = parts::plan_file(file, "a.json");
    if (!planned.plan) throw std::invalid_argument(parameters::to_text(planned.faults.front()));
    return *planned.plan;
}

void check_arm() {
    const std::string file = any_arm();
    RC_LOG() << file;
    const parts::Planned planned = parts::plan_file(file, "a.json");
    for (const auto& fault : planned.faults) RC_LOG() << parameters::to_text(fault);
    RC_ASSERT(planned.faults.empty());
    const plan::Plan& plan = *planned.plan;
    RC_ASSERT(!plan::has_final_stop(rules::judge(plan)));
    Body body = examine(plan, quiet);
    RC_ASSERT(body.findings.empty());
    const double volume_mm3 = volume_by_hand_mm3(plan);
    RC_ASSERT(std::abs(body.solid->volume_mm3() / volume_mm3 - 1.0) < 1e-9);
    const mesh::Fineness fineness{.chord_mm = 0.05};
    const mesh::Mesh mesh = part_mesh(plan, body, fineness, quiet);
    RC_ASSERT(mesh::is_watertight(mesh));
    RC_ASSERT(std::abs(mesh::volume_mm3(mesh) - volume_mm3) < body.figures.area_mm2 * fineness.chord_mm);
    const Measurement found = kernel().measure_step(kernel().step_text(*body.solid, plan, {}), "a.step");
    const Comparison comparison = compare(plan, expectation(body, 0.0), found, 1e-6);
    for (const Row& row : comparison.rows) {
        if (row.verdict != Verdict::same)
            RC_LOG() << row.what << " " << to_text(row.verdict) << ": " << row.expected << " / " << row.found
                     << "\n";
    }
    RC_ASSERT(comparison.agrees());
}

TEST(ArmFiles, are_what_the_plan_says) { plan::for_random_cases(check_arm); }

constexpr const char* clamped =
    R"({"bore": 12, "boss": {"diameter": 26, "height": 14}, "clamp": {"slit": 2, "bolt": "M6"}})";

const Row* row_of(const Comparison& comparison, const std::string& what) {
    for (const Row& row : comparison.rows) {
        if (row.what == what) return &row;
    }
    return nullptr;
}

/// Compares the file of one arm with the plan of another.
Comparison compared(const ArmText& made, const ArmText& wanted) {
    const plan::Plan plan = plan_of(parts::testing::arm_text(made));
    Body body = examine(plan, quiet);
    const Measurement found = kernel().measure_step(kernel().step_text(*body.solid, plan, {}), "a.step");
    const plan::Plan other = plan_of(parts::testing::arm_text(wanted));
    Body other_body = examine(other, quiet);
    return compare(other, expectation(other_body, 0.0), found, 1e-6);
}

TEST(ArmFiles, a_pinch_bolt_of_another_size_or_place_is_seen) {
    const ArmText m6{.pivot = clamped};
    ArmText m5 = m6;
    m5.pivot.replace(m5.pivot.find("M6"), 2, "M5");
    EXPECT_TRUE(compared(m6, m6).agrees());
    const Comparison other = compared(m5, m6);
    EXPECT_FALSE(other.agrees());
    ASSERT_NE(row_of(other, "pinch-clear"), nullptr);
    EXPECT_NE(row_of(other, "pinch-clear")->verdict, Verdict::same);
    const Comparison none = compared({}, m6);
    EXPECT_EQ(row_of(none, "pinch-tapped")->verdict, Verdict::missing);
    const Comparison extra = compared(m6, {});
    ASSERT_NE(row_of(extra, "extra hole"), nullptr);
}

TEST(ArmFiles, an_eye_on_another_level_is_seen) {
    const ArmText up{.eye = R"({"bore": 8})"};
    ArmText higher = up;
    higher.joggle = R"({"rise": 9.01, "start": 27, "run": 24, "inside_radius": 6})";
    EXPECT_EQ(row_of(compared(higher, up), "eye")->verdict, Verdict::differs);
    EXPECT_EQ(row_of(compared(up, up), "eye")->verdict, Verdict::same);
}

/// What an independent mesh library reads from an STL file; nothing where it is not installed.
std::optional<double> admesh_volume_mm3(const std::filesystem::path& stl) {
    std::FILE* pipe = ::popen(("admesh --no-check '" + stl.string() + "' 2>/dev/null").c_str(), "r");
    if (pipe == nullptr) return std::nullopt;
    std::string report;
    char buffer[256];
    while (std::fgets(buffer, sizeof buffer, pipe) != nullptr) report += buffer;
    ::pclose(pipe);
    const auto at = report.find("Volume");
    if (at == std::string::npos) return std::nullopt;
    const auto colon = report.find(':', at);
    const auto first = report.find_first_not_of(' ', colon + 1);
    return parse_number(report.substr(first, report.find_first_of(" \n", first) - first));
}

TEST(ArmFiles, another_mesh_library_finds_the_same_volume) {
    const std::filesystem::path stl = std::filesystem::temp_directory_path() / "fitup-arm-volume.stl";
    for (const ArmText& arm :
         {ArmText{}, ArmText{.joggle = R"({"rise": -9, "start": 27, "run": 24, "inside_radius": 6})"},
          ArmText{.pivot = clamped}}) {
        const plan::Plan plan = plan_of(parts::testing::arm_text(arm));
        Body body = examine(plan, quiet);
        const mesh::Mesh mesh = part_mesh(plan, body, {.chord_mm = 0.002}, quiet);
        const std::string bytes = mesh::stl_bytes(mesh, "arm");
        std::ofstream(stl, std::ios::binary) << bytes;
        const auto volume_mm3 = admesh_volume_mm3(stl);
        ASSERT_TRUE(volume_mm3) << "admesh gave no volume";
        EXPECT_NEAR(*volume_mm3, volume_by_hand_mm3(plan), body.figures.area_mm2 * 0.002);
    }
    std::filesystem::remove(stl);
}

}  // namespace
}  // namespace fitup::exchange
