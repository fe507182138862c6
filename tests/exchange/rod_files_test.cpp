// Random fair rods made, read back and measured; files that are another rod are told apart.
#include <gtest/gtest.h>

#include <cmath>

#include "base/vector3.hpp"
#include "exchange/make.hpp"
#include "mesh/rod_mesh.hpp"
#include "parts/kinds.hpp"
#include "parts/rods.hpp"
#include "plan/property.hpp"
#include "plan/rods.hpp"

namespace fitup::exchange {
namespace {

using plan::testing::any_rod;
using plan::testing::bare_rod;

void quiet(std::string_view) {}

plan::Plan plan_of(plan::Rod rod) {
    plan::Plan plan;
    plan.name = "rod";
    plan.material.density_kg_m3 = 7850;
    plan.rod = std::move(rod);
    return plan;
}

std::string step_of(const plan::Plan& plan) {
    const auto built = kernel().build(plan, {});
    return kernel().step_text(*built.solid, plan, {});
}

Comparison compared(const plan::Plan& wanted, const plan::Plan& made) {
    const Body body = examine(wanted, quiet);
    return compare(wanted, expectation(body, 0.0), measure_bytes(step_of(made), "r.step"), 1e-6);
}

Verdict verdict_of(const Comparison& comparison, const std::string& what) {
    for (const Row& row : comparison.rows) {
        if (row.what == what) return row.verdict;
    }
    throw std::out_of_range(what);
}

TEST(RodFiles, of_random_fair_rods_read_back_as_planned) {
    plan::for_random_cases([] {
        plan::Rod rod = any_rod();
        rod.ends[0] = {rod.diameter_mm * 0.75, 20, {}, false, *rc::gen::element(0.0, 0.5)};
        RC_PRE(!plan::rod_contact(rod, plan::rod_path(rod)));
        const plan::Plan plan = plan_of(rod);
        const Comparison comparison = compared(plan, plan);
        for (const Row& row : comparison.rows) {
            if (row.verdict != Verdict::same)
                RC_LOG() << row.what << ": " << row.expected << " / " << row.found << "\n";
        }
        RC_ASSERT(comparison.agrees());
    });
}

/// The mesh as an STL file, read back: closed, near the surface, its volume between the closed form and that
/// less a chord everywhere.
TEST(RodFiles, of_random_fair_rods_have_meshes_within_the_chord) {
    plan::for_random_cases([] {
        const plan::Rod rod = any_rod();
        const plan::RodPath path = plan::rod_path(rod);
        RC_PRE(!plan::rod_contact(rod, path));
        const mesh::Fineness fineness{.chord_mm = *rc::gen::element(0.01, 0.05)};
        const mesh::Mesh mesh =
            mesh::read_stl(mesh::stl_bytes(mesh::rod_mesh(rod, fineness), "rod"), "r.stl");
        RC_ASSERT(mesh::is_watertight(mesh));
        const plan::RodFigures figures = plan::rod_figures(rod, path);
        const double lost_mm3 = figures.volume_mm3 - mesh::volume_mm3(mesh);
        RC_ASSERT(lost_mm3 > 0.0);
        RC_ASSERT(lost_mm3 < figures.area_mm2 * fineness.chord_mm);
        const plan::Plan plan = plan_of(rod);
        const Body body = examine(plan, quiet);
        const Comparison comparison =
            compare(plan, expectation(body, fineness.chord_mm), measure(mesh), 1e-3);
        for (const Row& row : comparison.rows) {
            if (row.verdict != Verdict::same)
                RC_LOG() << row.what << ": " << row.expected << " / " << row.found << "\n";
        }
        RC_ASSERT(comparison.agrees());
    });
}

/// Middles of facets, and of their sides, lie within the chord of the true surface: a distance from the
/// centreline, found by trying many places of it.
TEST(RodMesh, strays_no_farther_than_its_chord) {
    const plan::Rod rod = bare_rod(8, 20, {{0, 0, 0}, {80, 0, 0}, {100, 60, 0}, {60, 90, 70}});
    const plan::RodPath path = plan::rod_path(rod);
    const double chord = 0.03;
    const mesh::Mesh mesh = mesh::rod_mesh(rod, {.chord_mm = chord, .angle = Angle::from_degrees(45)});
    const auto from_centreline = [&](const Vector& p) {
        double least = 1e9, at = 0;
        for (int i = 0; i <= 2000; ++i) {
            const double s = path.length_mm * i / 2000, d = length(path.place_at(s).at - p);
            if (d < least) least = d, at = s;
        }
        for (double step = path.length_mm / 2000; step > 1e-9; step /= 2) {
            for (const double s : {at - step, at + step}) {
                const double d = length(path.place_at(s).at - p);
                if (d < least) least = d, at = s;
            }
        }
        return least;
    };
    double worst = 0;
    for (std::size_t i = 0; i < mesh.triangles.size(); i += 7) {
        const auto& t = mesh.triangles[i];
        const Vector &a = mesh.vertices[t[0]], &b = mesh.vertices[t[1]], &c = mesh.vertices[t[2]];
        const Vector normal = unit(cross(b - a, c - a));
        if (std::abs(std::abs(dot(normal, path.straights.front().along)) - 1) < 1e-9 ||
            std::abs(std::abs(dot(normal, path.straights.back().along)) - 1) < 1e-9)
            continue;  // the flat ends
        for (const Vector& p : {(a + b + c) * (1 / 3.0), (a + b) * 0.5, (b + c) * 0.5, (c + a) * 0.5})
            worst = std::max(worst, std::abs(from_centreline(p) - 4));
    }
    EXPECT_LT(worst, chord);
    EXPECT_GT(worst, chord / 4) << "not far finer than asked";
}

plan::Rod bent() { return bare_rod(8, 24, {{0, 0, 0}, {90, 0, 0}, {120, 60, 20}, {220, 60, 40}}); }

TEST(RodFiles, that_are_another_rod_are_told_apart) {
    const plan::Plan wanted = plan_of(bent());
    plan::Rod other = bent();
    other.corners[3][2] += 0.01;
    const Comparison moved = compared(wanted, plan_of(other));
    EXPECT_FALSE(moved.agrees());
    EXPECT_EQ(verdict_of(moved, "straight-1"), Verdict::same);
    EXPECT_EQ(verdict_of(moved, "straight-3"), Verdict::moved);
    EXPECT_EQ(verdict_of(moved, "bend-2"), Verdict::moved);

    other = bent();
    other.diameter_mm = 8.01;
    for (plan::RodEnd& end : other.ends) end.diameter_mm = 8.01;
    EXPECT_EQ(verdict_of(compared(wanted, plan_of(other)), "straight-2"), Verdict::resized);
    other = bent();
    other.bend_radius_mm = 24.01;
    EXPECT_NE(verdict_of(compared(wanted, plan_of(other)), "bend-1"), Verdict::same);
    other = bent();
    other.ends[0] = {7, 15, {}, false, 0};
    EXPECT_EQ(verdict_of(compared(wanted, plan_of(other)), "extra shaft"), Verdict::extra);
    EXPECT_EQ(verdict_of(compared(plan_of(other), wanted), "turned-1"), Verdict::missing);
    other = bent();
    other.corners.pop_back();
    EXPECT_EQ(verdict_of(compared(plan_of(other), wanted), "extra bend"), Verdict::extra);
    EXPECT_EQ(verdict_of(compared(wanted, plan_of(other)), "bend-2"), Verdict::missing);
}

TEST(RodFiles, of_a_mirrored_mesh_do_not_agree) {
    const plan::Plan wanted = plan_of(bent());
    plan::Rod mirrored = bent();
    for (plan::Point3& corner : mirrored.corners) corner[2] = -corner[2];
    const Body body = examine(wanted, quiet);
    const mesh::Mesh mesh = mesh::rod_mesh(mirrored, {});
    EXPECT_FALSE(compare(wanted, expectation(body, 0.01), measure(mesh), 0.005).agrees());
}

TEST(RodFiles, with_modelled_threads_are_made_and_verified) {
    using parts::testing::RodText;
    const RodText text{.ends = R"([{"thread": "M8", "length": 12, "model_as": "thread"},
                                   {"thread": "M6", "length": 9, "model_as": "thread", "hand": "left"}])"};
    const auto planned = parts::plan_file(parts::testing::rod_text(text), "r.json");
    ASSERT_TRUE(planned.plan);
    Body body = examine(*planned.plan, quiet);
    MakeOptions options;
    options.folder = testing::TempDir();
    options.fineness.chord_mm = 0.05;
    FileSet files;
    for (const MadeFile& file : make(*planned.plan, body, options, files, quiet)) EXPECT_TRUE(file.verified);
}

}  // namespace
}  // namespace fitup::exchange
