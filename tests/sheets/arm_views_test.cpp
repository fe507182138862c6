// An offset arm from above, from the side and flat: against the figures that the bench gets, and against
// closed forms of the joggle.
#include "sheets/arm_views.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "parts/arms.hpp"
#include "parts/examples.hpp"
#include "parts/plates.hpp"
#include "sheets/view_lines.hpp"
#include "sheets/views.hpp"

namespace fitup::sheets {
namespace {

using plan::Point;

double size_mm(const KeyedView& keyed, const std::string& name) {
    for (const KeyLength& key : keyed.keys.lengths) {
        if (key.name == name) return key.size_mm;
    }
    ADD_FAILURE() << "no length " << name;
    return 0.0;
}

/// Every length is what its two places are apart along its direction.
void expect_true_lengths(const KeyedView& keyed) {
    for (const KeyLength& key : keyed.keys.lengths) {
        const double shown =
            (key.to.x_mm - key.from.x_mm) * key.along.x_mm + (key.to.y_mm - key.from.y_mm) * key.along.y_mm;
        EXPECT_NEAR(std::abs(shown), key.size_mm, 1e-9) << key.name;
        EXPECT_GT(key.size_mm, 0.0) << key.name;
    }
}

double figure_of(const plan::Work& work, const std::string& key, std::size_t index = 0) {
    for (const plan::WorkItem& figure : work) {
        if (figure.key != key) continue;
        if (const auto* one = std::get_if<double>(&figure.value)) return *one;
        if (const auto* many = std::get_if<std::vector<double>>(&figure.value)) return many->at(index);
    }
    ADD_FAILURE() << "no figure " << key;
    return 0.0;
}

TEST(ArmViews, dimensions_are_the_files_and_the_benchs_figures) {
    const plan::Plan plan = parts::testing::example_plan("deck-arm.json");
    const ArmViews views = arm_views(plan);
    ASSERT_TRUE(views.flat.has_value());
    for (const KeyedView* one : {&views.top, &views.side, &*views.flat}) expect_true_lengths(*one);
    EXPECT_NEAR(size_mm(views.top, "pivot to eye"), 86, 1e-12);
    EXPECT_NEAR(size_mm(views.top, "width"), 22, 1e-12);
    EXPECT_NEAR(size_mm(views.top, "pivot bore"), 12, 1e-12);
    EXPECT_NEAR(size_mm(views.top, "slot length"), 18, 1e-12);
    EXPECT_NEAR(size_mm(views.top, "slit"), 2, 1e-12);
    EXPECT_NEAR(size_mm(views.side, "rise"), 9, 1e-12);
    EXPECT_NEAR(size_mm(views.side, "run"), 24, 1e-12);
    EXPECT_NEAR(size_mm(views.side, "bend start"), 27, 1e-12);
    EXPECT_NEAR(size_mm(views.side, "thickness"), 6, 1e-12);
    EXPECT_NEAR(size_mm(views.side, "boss height"), 14, 1e-12);
    ASSERT_EQ(views.side.keys.radii.size(), 2u);
    EXPECT_EQ(views.side.keys.radii[0].size_mm, 6);
    const plan::Work work = parts::work_of(plan);
    EXPECT_NEAR(views.side.keys.angles.at(0).size.degrees(), figure_of(work, "bend_angle_deg"), 1e-9);
    EXPECT_NEAR(size_mm(*views.flat, "developed length"), figure_of(work, "developed_length_mm"), 1e-9);
    EXPECT_NEAR(size_mm(*views.flat, "strip"), figure_of(work, "cut_length_mm"), 1e-9);
    std::vector<double> marks;
    for (const KeyLength& key : views.flat->keys.lengths) {
        if (key.name == "mark") marks.push_back(key.size_mm);
    }
    ASSERT_EQ(marks.size(), 2u);
    EXPECT_NEAR(marks[0], figure_of(work, "bend_marks_mm", 0), 1e-9);
    EXPECT_NEAR(marks[1], figure_of(work, "bend_marks_mm", 1), 1e-9);
}

/// The strip's middle line by walking along it: up to the first bend, round it, straight, round the second.
/// Every point half the thickness off to either side of it must lie on what is drawn.
void expect_strip_drawn(const plan::Plan& plan, const View& side) {
    const plan::Joggle& joggle = *plan.body.joggle;
    const double t = plan.body.thickness_mm, radius = joggle.inside_radius_mm + t / 2;
    const double up = joggle.rise_mm > 0 ? 1 : -1, rise = std::abs(joggle.rise_mm);
    // Solved by bisection on the angle, not by the closed form: the straight closes the run, then the rise
    // must agree.
    double low = 1e-9, high = std::numbers::pi / 2;
    const auto straight = [&](double a) { return (joggle.run_mm - 2 * radius * std::sin(a)) / std::cos(a); };
    for (int k = 0; k < 200; ++k) {
        const double a = (low + high) / 2;
        const double got = 2 * radius * (1 - std::cos(a)) + straight(a) * std::sin(a);
        (got < rise ? low : high) = a;
    }
    double x = joggle.start_mm, z = t / 2, turn = 0;
    const double length = 2 * radius * low + straight(low);
    constexpr int steps = 4000;
    for (int k = 0; k < steps; ++k) {
        const double at = (k + 0.5) / steps * length;
        const double arc = radius * low;
        turn = at < arc ? at / radius : at > length - arc ? (length - at) / radius : low;
        x += length / steps * std::cos(turn);
        z += length / steps * std::sin(turn) * up;
        if (k % 100 != 50) continue;
        const double along = (k + 1.0) / steps * length;
        const double here = along < arc            ? along / radius
                            : along > length - arc ? (length - along) / radius
                                                   : low;
        for (const double aside : {t / 2, -t / 2}) {
            const Point place{x - aside * std::sin(here) * up, z + aside * std::cos(here)};
            EXPECT_LT(testing::distance_mm(side, LineKind::visible, place), 2e-3) << along;
        }
    }
    EXPECT_NEAR(x, joggle.start_mm + joggle.run_mm, 2e-3);
    EXPECT_NEAR(z, t / 2 + joggle.rise_mm, 2e-3);
}

TEST(ArmViews, the_joggle_is_drawn_where_a_walk_along_the_strip_goes_up_or_down) {
    for (const char* joggle : {R"({"rise": 9, "start": 27, "run": 24, "inside_radius": 6})",
                               R"({"rise": -7, "start": 30, "run": 18, "inside_radius": 4})"}) {
        const plan::Plan plan = parts::testing::plan_of(parts::testing::arm_text({.joggle = joggle}));
        const ArmViews views = arm_views(plan);
        expect_strip_drawn(plan, views.side.view);
        // Its four edges meet those of the legs: nothing is drawn twice or left open at the bends' ends.
        const plan::Box2 whole = box(views.side.view);
        EXPECT_NEAR(whole.least.x_mm, plan.body.outline.box().least.x_mm, 1e-6);
        EXPECT_NEAR(whole.most.x_mm, plan.body.outline.box().most.x_mm, 1e-6);
    }
}

TEST(ArmViews, a_flat_arm_has_no_joggle_and_a_blank_without_bends) {
    const plan::Plan plan = parts::testing::plan_of(parts::testing::arm_text({.joggle = ""}));
    const ArmViews views = arm_views(plan);
    EXPECT_TRUE(views.side.keys.radii.empty());
    EXPECT_TRUE(testing::arcs(views.side.view, LineKind::visible).empty());
    EXPECT_TRUE(testing::lines(views.top.view, LineKind::bend).empty());
    ASSERT_TRUE(views.flat.has_value());
    EXPECT_NEAR(size_mm(*views.flat, "developed length"), 86, 1e-12);
}

TEST(ArmViews, the_tapped_half_of_the_pinch_bolts_hole_is_in_sight) {
    const plan::Plan plan = parts::testing::example_plan("deck-arm.json");
    const View side = arm_views(plan).side.view;
    const auto seen = testing::arcs(side, LineKind::visible);
    const auto round =
        std::find_if(seen.begin(), seen.end(), [](const ViewArc& arc) { return arc.sweep_rad > 6; });
    ASSERT_NE(round, seen.end());
    EXPECT_NEAR(round->radius_mm, plan.cross_holes[1].diameter_mm / 2, 1e-12);
    EXPECT_NEAR(round->centre.x_mm, -plan.arm->clamp->bolt_behind_mm, 1e-12);
    EXPECT_EQ(testing::arcs(side, LineKind::thread).size(), 1u);
    ASSERT_NE(testing::mark(side, "pinch-tapped"), nullptr);
    EXPECT_TRUE(testing::mark(side, "pinch-tapped")->is_open);
    EXPECT_FALSE(testing::mark(side, "pinch-clear")->is_open);
}

TEST(ArmViews, holes_lie_at_their_legs_level) {
    const plan::Plan plan = parts::testing::example_plan("deck-arm.json");
    const View side = arm_views(plan).side.view;
    for (const ViewLine& line : testing::lines(side, LineKind::hidden)) {
        const double x = line.points[0].x_mm;
        EXPECT_EQ(x, line.points[1].x_mm);
        const double low = std::min(line.points[0].y_mm, line.points[1].y_mm);
        const double high = std::max(line.points[0].y_mm, line.points[1].y_mm);
        EXPECT_NEAR(low, x > 50 ? 9 : 0, 1e-12);
        EXPECT_NEAR(high, x > 50 ? 15 : 14, 1e-12);
        EXPECT_NEAR(std::abs(x > 50 ? x - 86 : x), x > 50 ? 9 : 6, 1e-12);
    }
    EXPECT_EQ(testing::lines(side, LineKind::hidden).size(), 4u);
}

}  // namespace
}  // namespace fitup::sheets
