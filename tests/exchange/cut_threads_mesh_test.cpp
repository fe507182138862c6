// Meshes with threads and with threads cut away: they differ by the ridges, which are summed up point by
// point over turn and height from the standards' profile.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "exchange/make.hpp"
#include "parts/kinds.hpp"
#include "parts/printed.hpp"
#include "plan/thread_form.hpp"

namespace fitup::exchange {
namespace {

using std::numbers::pi;
const Progress quiet = [](std::string_view) {};
constexpr mesh::Fineness fine{.chord_mm = 0.003, .angle = Angle::from_degrees(10.0)};

struct Threads {
    const char* designation;
    plan::ThreadProfile profile;
    double major_mm;
    double pitch_mm;
    const char* hand;
};

/// Sizes from memory: ISO 261, ASME B1.1, BS 84 (1/4 in, 20 to the inch), BS 93 (0 BA: 6 mm, pitch 1).
const Threads all_threads[] = {
    {"M10", plan::ThreadProfile::iso_and_unified, 10.0, 1.5, "right"},
    {"M6", plan::ThreadProfile::iso_and_unified, 6.0, 1.0, "left"},
    {"1/4-20 UNC", plan::ThreadProfile::iso_and_unified, 6.35, 1.27, "right"},
    {"1/4 BSW", plan::ThreadProfile::whitworth, 6.35, 1.27, "left"},
    {"0 BA", plan::ThreadProfile::british_association, 6.0, 1.0, "right"},
};

/// Sums radius^2 / 2 over a turn and from 0 to `to_mm`, in small steps.
template <class Radius>
double swept_mm3(double pitch_mm, double to_mm, const Radius& radius_mm) {
    constexpr int turns = 96;
    const int heights = int(std::ceil(to_mm * 400.0));
    double sum_mm3 = 0.0;
    for (int i = 0; i < heights; ++i) {
        const double z_mm = (i + 0.5) * to_mm / heights;
        for (int k = 0; k < turns; ++k) {
            const double radius = radius_mm(z_mm, z_mm - pitch_mm * k / turns);
            sum_mm3 += radius * radius / 2.0 * (2.0 * pi / turns) * (to_mm / heights);
        }
    }
    return sum_mm3;
}

class CutThreads : public testing::TestWithParam<Threads> {
  protected:
    plan::ThreadForm form() const {
        return plan::thread_form(GetParam().profile, GetParam().major_mm, GetParam().pitch_mm);
    }
    std::string thread_text() const {
        return std::string(R"("thread": ")") + GetParam().designation + R"(", "hand": ")" + GetParam().hand +
               R"(", "model_as": "thread")";
    }
    /// Flanks at 60 degrees to the axis show at most twice what they cover.
    double threaded_mm2(double length_mm) const { return 2.0 * pi * GetParam().major_mm * length_mm; }

    /// Volume of the part's mesh less that of the printed one.
    static double differ_by_mm3(const std::string& file) {
        const parts::Planned planned = parts::plan_file(file, "p.json");
        for (const auto& fault : planned.faults) ADD_FAILURE() << parameters::to_text(fault);
        if (!planned.plan) return 0.0;
        const auto printed = parts::printed_plan(*planned.plan, planned.papers.print);
        if (!printed) return 0.0;
        Body real = examine(*planned.plan, quiet), plain = examine(*printed, quiet);
        EXPECT_EQ(plain.solid, nullptr) << "the kernel is not needed";
        const mesh::Mesh real_mesh = part_mesh(*planned.plan, real, fine, quiet);
        const mesh::Mesh plain_mesh = part_mesh(*printed, plain, fine, quiet);
        EXPECT_TRUE(mesh::is_watertight(plain_mesh));
        for (const Row& row :
             compare(*printed, expectation(plain, fine.chord_mm), measure(plain_mesh), 1e-3).rows)
            EXPECT_EQ(row.verdict, Verdict::same) << row.what << ": " << row.expected << ", " << row.found;
        return mesh::volume_mm3(real_mesh) - mesh::volume_mm3(plain_mesh);
    }
};

TEST_P(CutThreads, in_a_hole_leave_out_the_ridges) {
    const plan::ThreadForm of = form();
    const double major = of.major_radius_mm(), minor = of.minor_radius_mm();
    constexpr double through_mm = 9.0, thread_mm = 6.0, drill_mm = 8.0;
    // Chamfers at both faces.
    const double open_mm3 = swept_mm3(of.pitch_mm, through_mm, [&](double z_mm, double along_mm) {
        return std::max({of.radius_mm(along_mm), major - z_mm, major - (through_mm - z_mm)});
    });
    // A chamfer, one pitch of run-out to the minor diameter, and from there the drill's own wall.
    const double blind_mm3 = swept_mm3(of.pitch_mm, drill_mm, [&](double z_mm, double along_mm) {
        const double fades = std::clamp((z_mm - thread_mm) / of.pitch_mm, 0.0, 1.0);
        return std::max(std::lerp(of.radius_mm(along_mm), minor, fades), major - z_mm);
    });
    const double expected_mm3 = pi * major * major * (through_mm + drill_mm) - open_mm3 - blind_mm3;
    const std::string file =
        R"({"format": 1, "part": "adapter_plate", "name": "p", "units": "mm", "material": "mild steel",
        "thickness": 9, "outline": {"rectangle": {"width": 60, "height": 30}}, "print": {"threads": "cut_away"},
        "patterns": [{"name": "a", "seen_from": "B", "points": [[-15, 0]], "hole": {"kind": "tapped", )" +
        thread_text() +
        R"(}}, {"name": "b", "seen_from": "B", "points": [[15, 0]], "hole": {"kind": "tapped", "depth": 6,
        "drill_depth": 8, "point": "flat", )" +
        thread_text() + "}}]}";
    const double area_mm2 = threaded_mm2(through_mm + drill_mm) + pi * of.major_mm * (through_mm + drill_mm);
    EXPECT_GT(expected_mm3, 10.0 * fine.chord_mm * area_mm2) << "the test would not see them";
    EXPECT_NEAR(differ_by_mm3(file), expected_mm3, fine.chord_mm * area_mm2);
}

TEST_P(CutThreads, on_a_rod_leave_out_the_ridges) {
    const plan::ThreadForm of = form();
    const double major = of.major_radius_mm(), minor = of.minor_radius_mm();
    constexpr double thread_mm = 12.0;
    const double end_mm = thread_mm + of.pitch_mm;
    const double metal_mm3 = swept_mm3(of.pitch_mm, end_mm, [&](double z_mm, double along_mm) {
        const double fades = std::clamp((z_mm - thread_mm) / of.pitch_mm, 0.0, 1.0);
        return std::min(std::lerp(of.radius_mm(along_mm), major, fades), minor + z_mm);
    });
    const double expected_mm3 = 2.0 * (metal_mm3 - pi * minor * minor * end_mm);
    const std::string end = "{" + thread_text() + R"(, "length": 12})";
    const std::string file =
        R"({"format": 1, "part": "threaded_rod", "name": "r", "units": "mm", "material": "mild steel", "diameter": )" +
        std::to_string(of.major_mm) + R"(, "length": 32, "print": {"threads": "cut_away"}, "ends": [)" + end +
        ", " + end + "]}";
    const double area_mm2 = 2.0 * threaded_mm2(end_mm) + 2.0 * pi * of.major_mm * 32.0;
    EXPECT_GT(expected_mm3, 10.0 * fine.chord_mm * area_mm2) << "the test would not see them";
    EXPECT_NEAR(differ_by_mm3(file), expected_mm3, fine.chord_mm * area_mm2);
}

INSTANTIATE_TEST_SUITE_P(OfEachProfile, CutThreads, testing::ValuesIn(all_threads));

}  // namespace
}  // namespace fitup::exchange
