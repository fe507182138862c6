// A report read back: what is wrong with a page is found. And where its view looks for holes: on the part's
// own metal, by rays through its triangles.
#include "sheets/report_check.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "base/error.hpp"
#include "base/vector3.hpp"
#include "sheets/report_marks.hpp"
#include "sheets/report_read.hpp"
#include "sheets/report_sample.hpp"

namespace fitup::sheets {
namespace {

using namespace testing;

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    return at == std::string::npos ? text : text.replace(at, from.size(), to);
}

/// The view's mesh comes back as it went in, but for the steps of its corners.
TEST(ReportCheck, reads_the_view_back) {
    for (const char* example : {"winch-adapter.json", "selector-rod.json"}) {
        const Sample one = sample(example);
        const ReportInput input = one.input();
        const mesh::Mesh read = read_report(report_page(input)).mesh;
        ASSERT_EQ(read.vertices.size(), input.view.mesh.vertices.size()) << example;
        EXPECT_EQ(read.triangles, input.view.mesh.triangles) << example;
        double worst_mm = 0.0;
        for (std::size_t i = 0; i < read.vertices.size(); ++i)
            worst_mm = std::max(worst_mm, length(read.vertices[i] - input.view.mesh.vertices[i]));
        EXPECT_LT(worst_mm, 430.0 / 65535.0) << example;
    }
}

TEST(ReportCheck, finds_what_differs) {
    const Sample one = sample("selector-crank.json");
    const ReportInput input = one.input();
    const double area_mm2 = mesh::area_mm2(input.view.mesh);
    const std::string page = report_page(input);
    EXPECT_NE(check_report(page, input, area_mm2).find("6 rows, worst 0.0000 mm"), std::string::npos);
    const auto fails = [&](const std::string& wrong) {
        EXPECT_THROW(check_report(wrong, input, area_mm2), KernelError);
    };
    fails(replaced(page, "64.00<small>", "64.01<small>"));
    fails(replaced(page, "-29.00<small>", "29.00<small>"));
    fails(replaced(page, "data-id=\"rig-pin\"", "data-id=\"rod\""));
    fails(replaced(page, "<tr id=\"hole=rod\"", "<tr id=\"rod\""));
    fails(page.substr(0, page.find("id=\"mesh\"")));
    fails(page.substr(0, page.find("id=\"mesh\"") + 2000));
    fails(replaced(page, "data-size=\"", "data-size=\"1"));
}

TEST(ReportCheck, reads_inches_as_inches) {
    Sample one = sample("selector-crank.json");
    one.plan.units = plan::Units::in;
    const ReportInput input = one.input();
    EXPECT_NO_THROW(check_report(report_page(input), input, mesh::area_mm2(input.view.mesh)));
}

/// How far along a ray down (or up) Z the first triangle lies; nothing where it meets none.
std::optional<double> first_z(const mesh::Mesh& mesh, double x_mm, double y_mm, bool from_above) {
    std::optional<double> best;
    for (const auto& triangle : mesh.triangles) {
        const plan::Point3 &a = mesh.vertices[triangle[0]], &b = mesh.vertices[triangle[1]],
                           &c = mesh.vertices[triangle[2]];
        const double area = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
        if (std::abs(area) < 1e-12) continue;
        const double u = ((x_mm - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (y_mm - a[1])) / area;
        const double v = ((b[0] - a[0]) * (y_mm - a[1]) - (x_mm - a[0]) * (b[1] - a[1])) / area;
        if (u < 0 || v < 0 || u + v > 1) continue;
        const double z_mm = a[2] + u * (b[2] - a[2]) + v * (c[2] - a[2]);
        if (!best || (from_above ? z_mm > *best : z_mm < *best)) best = z_mm;
    }
    return best;
}

/// Just beside a mouth's rim the metal begins at the mouth's height, at least most of the way round; just
/// inside it, deeper.
void expect_mouth(const mesh::Mesh& mesh, const plan::Hole& hole, double z_mm, double radius_mm,
                  bool from_above) {
    int level = 0, deeper = 0;
    constexpr int ways = 16;
    for (int i = 0; i < ways; ++i) {
        const double turn = 2.0 * std::numbers::pi * (i + 0.37) / ways;
        const auto met = [&](double beside_mm) {
            return first_z(mesh, hole.at_mm.x_mm + (radius_mm + beside_mm) * std::cos(turn),
                           hole.at_mm.y_mm + (radius_mm + beside_mm) * std::sin(turn), from_above);
        };
        const auto outside_mm = met(0.2), inside_mm = met(-0.2);
        if (outside_mm && std::abs(*outside_mm - z_mm) < 1e-6) ++level;
        if (!inside_mm || (from_above ? *inside_mm < z_mm - 0.01 : *inside_mm > z_mm + 0.01)) ++deeper;
    }
    EXPECT_GE(level, ways / 2) << hole.id << " at z " << z_mm;
    EXPECT_EQ(deeper, ways) << hole.id << " at z " << z_mm;
}

/// On a face, in a register, in a relief, on a spigot, under a counterbore, from either side.
TEST(ReportMarks, lie_where_the_metal_begins) {
    const Sample one = sample_of_text(R"({"format": 1, "part": "adapter_plate", "name": "p", "units": "mm",
        "material": "mild steel", "thickness": 20, "outline": {"round": {"diameter": 200}}, "bore": {"diameter": 40},
        "registers": [{"side": "A", "kind": "spigot", "diameter": 90, "bore": 60, "height": 4},
                      {"side": "B", "kind": "recess", "diameter": 80, "depth": 3}],
        "reliefs": [{"side": "B", "circle": {"at": [0, 70], "diameter": 40}, "depth": 5}],
        "patterns": [
          {"name": "low", "seen_from": "B", "points": [[0, 70]], "hole": {"kind": "drilled", "diameter": 8}},
          {"name": "sunk", "seen_from": "B", "points": [[70, 0]],
           "hole": {"kind": "clearance", "for": "M8", "recess": {"side": "B", "diameter": 18, "depth": 6}}},
          {"name": "blind", "seen_from": "B", "points": [[-70, 0]],
           "hole": {"kind": "tapped", "thread": "M10", "depth": 8, "from": "A"}},
          {"name": "ring", "seen_from": "B", "points": [[0, -37.5]], "hole": {"kind": "drilled", "diameter": 4}}]})");
    const plan::SkinResult skin = plan::skin(one.plan);
    ASSERT_TRUE(skin.overlapping.empty() && skin.overlapping_raised.empty()) << "the triangles are the part";
    const mesh::Mesh mesh = one.mesh_at({.chord_mm = 0.02});
    std::vector<double> heights_mm;
    for (const plan::Hole& hole : one.plan.holes) {
        const HoleMark mark = mark_of(one.plan, hole);
        const double towards = mark.axis[2];
        heights_mm.push_back(mark.base[2] + towards * mark.high_mm);
        expect_mouth(mesh, hole, heights_mm.back(), mark.high_mouth_mm, towards > 0);
        if (mark.low_mouth_mm > 0.0)
            expect_mouth(mesh, hole, mark.base[2] + towards * mark.low_mm, mark.low_mouth_mm, towards < 0);
        EXPECT_EQ(mark.low_mouth_mm > 0.0, hole.through) << hole.id;
    }
    EXPECT_EQ(heights_mm, (std::vector<double>{17.0, 15.0, 20.0, 0.0, 17.0}));
}

TEST(ReportMarks, of_a_pinch_bolt_come_out_on_both_edges) {
    const plan::Plan plan = parts::testing::example_plan("deck-arm.json");
    ASSERT_EQ(plan.cross_holes.size(), 2u);
    std::size_t out = 0;
    for (const plan::CrossHole& hole : plan.cross_holes) {
        const HoleMark mark = mark_of(plan, hole);
        EXPECT_NEAR(mark.axis[1], -hole.direction[1], 1e-12);
        for (const double along_mm :
             {mark.high_mouth_mm > 0 ? mark.high_mm : 1e9, mark.low_mouth_mm > 0 ? mark.low_mm : 1e9})
            out += std::abs(std::abs(mark.base[1] + mark.axis[1] * along_mm) -
                            plan.arm->clamp->lug_width_mm / 2.0) < 1e-6
                       ? 1
                       : 0;
    }
    EXPECT_EQ(out, 2u);
}

TEST(ReportMarks, of_a_rod_follow_its_centreline) {
    const plan::Plan plan = parts::testing::example_plan("selector-rod.json");
    const std::vector<StretchMark> marks = rod_marks(plan);
    ASSERT_EQ(marks.size(), plan.rod->corners.size());
    EXPECT_LT(length(marks.front().points.front() - plan.rod->corners.front()), 1e-9);
    EXPECT_LT(length(marks.back().points.back() - plan.rod->corners.back()), 1e-9);
    for (std::size_t i = 1; i + 1 < marks.size(); ++i) {
        // The middle of a bend lies nearer to its corner than any other corner, and within the radius of it.
        const plan::Point3& middle = marks[i].points[marks[i].points.size() / 2];
        EXPECT_LT(length(middle - plan.rod->corners[i]), plan.rod->bend_radius_mm) << i;
    }
}

}  // namespace
}  // namespace fitup::sheets
