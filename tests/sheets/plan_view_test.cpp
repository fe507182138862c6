// Sides as seen: curves against the plan's own numbers and against a probe along Z that knows nothing of
// curves.
#include "sheets/plan_view.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <numbers>

#include "exchange/random_plates.hpp"
#include "parts/examples.hpp"
#include "parts/plates.hpp"
#include "plan/property.hpp"
#include "plan/seen_from.hpp"
#include "sheets/view_lines.hpp"
#include "sheets/views.hpp"

namespace fitup::sheets {
namespace {

using plan::Point;
using plan::Side;

/// Whole circles of a kind about a place.
std::vector<double> radii(const View& view, LineKind kind, Point about) {
    std::vector<double> found;
    for (const ViewArc& arc : testing::arcs(view, kind)) {
        if (std::hypot(arc.centre.x_mm - about.x_mm, arc.centre.y_mm - about.y_mm) < 1e-9)
            found.push_back(arc.radius_mm);
    }
    std::sort(found.begin(), found.end());
    return found;
}

plan::Plan plate_with_one_of_each() {
    return parts::testing::plan_with(R"("bore": {"diameter": 100},
      "registers": [{"side": "A", "kind": "spigot", "diameter": 300, "bore": 260, "height": 5}],
      "patterns": [
        {"name": "nut", "seen_from": "B", "points": [[170, 0]], "hole": {"kind": "drilled", "diameter": 11,
         "recess": {"side": "B", "diameter": 30, "depth": 9}}},
        {"name": "stud", "seen_from": "B", "points": [[0, 100]], "hole": {"kind": "tapped", "thread": "M10", "depth": 20}},
        {"name": "sunk", "seen_from": "B", "points": [[-100, 0]], "hole": {"kind": "drilled", "diameter": 9,
         "countersink": {"side": "A", "diameter": 18, "angle": 90}}},
        {"name": "jack", "seen_from": "B", "points": [[0, -100]], "hole": {"kind": "tapped", "thread": "M12", "depth": "through"}}])");
}

using Radii = std::vector<double>;

TEST(PlanView, shows_of_each_hole_what_is_on_that_side_and_hides_the_rest) {
    const plan::Plan plan = plate_with_one_of_each();
    const View b = plan_view(plan, Side::B), a = plan_view(plan, Side::A);
    EXPECT_EQ(b.name, "side B");
    EXPECT_EQ(radii(b, LineKind::visible, {170, 0}), (Radii{5.5, 15}));
    EXPECT_EQ(radii(a, LineKind::visible, {-170, 0}), (Radii{5.5}));
    EXPECT_EQ(radii(a, LineKind::hidden, {-170, 0}), (Radii{15}));
    EXPECT_EQ(radii(b, LineKind::visible, {-100, 0}), (Radii{4.5}));
    EXPECT_EQ(radii(b, LineKind::hidden, {-100, 0}), (Radii{9}));
    EXPECT_EQ(radii(a, LineKind::visible, {100, 0}), (Radii{4.5, 9}));
    // About the origin: outline, spigot, bore.
    EXPECT_EQ(radii(b, LineKind::visible, {0, 0}), (Radii{50, 215}));
    EXPECT_EQ(radii(b, LineKind::hidden, {0, 0}), (Radii{130, 150}));
    EXPECT_EQ(radii(a, LineKind::visible, {0, 0}), (Radii{50, 130, 150, 215}));
}

TEST(PlanView, threads_are_three_quarters_of_the_major_circle_open_to_the_upper_right) {
    const plan::Plan plan = plate_with_one_of_each();
    for (const Side side : {Side::B, Side::A}) {
        const View view = plan_view(plan, side);
        const bool is_b = side == Side::B;
        EXPECT_EQ(radii(view, LineKind::thread, {0, 100}), is_b ? Radii{5} : Radii{});
        EXPECT_EQ(radii(view, LineKind::hidden, {0, 100}), is_b ? Radii{} : (Radii{4.25, 5}));
        EXPECT_EQ(radii(view, LineKind::thread, {0, -100}), Radii{6});
        for (const ViewArc& arc : testing::arcs(view, LineKind::thread)) {
            EXPECT_NEAR(std::cos(arc.from_rad), 0.0, 1e-12);
            EXPECT_NEAR(std::sin(arc.from_rad), 1.0, 1e-12);
            EXPECT_NEAR(arc.sweep_rad, 1.5 * 3.14159265358979, 1e-12);
        }
    }
}

TEST(PlanView, marks_every_hole_where_it_is_seen) {
    const plan::Plan plan = parts::testing::example_plan("winch-adapter.json");
    for (const Side side : {Side::A, Side::B}) {
        const View view = plan_view(plan, side);
        ASSERT_EQ(view.marks.size(), plan.holes.size());
        for (const plan::Hole& hole : plan.holes) {
            const ViewMark* mark = testing::mark(view, hole.id);
            ASSERT_NE(mark, nullptr);
            EXPECT_EQ(mark->at.x_mm, side == Side::A ? -hole.at_mm.x_mm : hole.at_mm.x_mm);
            EXPECT_EQ(mark->at.y_mm, hole.at_mm.y_mm);
            EXPECT_EQ(mark->is_open, hole.through || hole.from == side) << hole.id;
        }
    }
    EXPECT_EQ(testing::mark(plan_view(plan, Side::B), "housing-1")->radius_mm,
              plan.holes[1].recess->diameter_mm / 2);
}

TEST(PlanView, bolt_circles_are_drawn_once_and_moved_ones_where_they_lie) {
    const View winch = plan_view(parts::testing::example_plan("winch-adapter.json"), Side::B);
    const auto circles = testing::arcs(winch, LineKind::circle);
    ASSERT_EQ(circles.size(), 1u);  // housing and jacking screws share theirs
    EXPECT_NEAR(circles[0].radius_mm, 190.5, 1e-12);
    const plan::Plan moved = parts::testing::plan_with(
        parts::testing::pattern(R"("circle": {"diameter": 80, "count": 5}, "shift": [60, -20])",
                                R"({"kind": "drilled", "diameter": 5})"));
    const auto own = testing::arcs(plan_view(moved, Side::B), LineKind::circle);
    ASSERT_EQ(own.size(), 1u);
    EXPECT_NEAR(own[0].centre.x_mm, 60, 1e-9);
    EXPECT_NEAR(own[0].centre.y_mm, -20, 1e-9);
}

TEST(PlanView, a_cranks_eye_that_stands_out_below_only_is_hidden_from_above) {
    const plan::Plan crank = parts::testing::example_plan("selector-crank.json");
    // The selector's eye, 18 mm, stands on face B alone: from A half of it lies behind the web.
    const View a = plan_view(crank, Side::A);
    const Point eye{0, -29};
    const auto hidden = testing::arcs(a, LineKind::hidden);
    ASSERT_EQ(hidden.size(), 1u);
    EXPECT_NEAR(hidden[0].centre.y_mm, eye.y_mm, 1e-9);
    EXPECT_NEAR(hidden[0].radius_mm, 9, 1e-9);
    // Less the arc where it is the outline: the belt round hub (30) and eye (18) touches the eye's circle at
    // an angle whose sine is the difference of radii over the distance, on both sides.
    const double touch = std::asin((15.0 - 9.0) / 29.0);
    EXPECT_NEAR(hidden[0].sweep_rad, 3.14159265358979 + 2 * touch, 0.4);
    EXPECT_LT(hidden[0].sweep_rad, 3.14159265358979 + 2 * touch + 1e-9);
    EXPECT_TRUE(testing::arcs(plan_view(crank, Side::B), LineKind::hidden).empty());
}

/// What a probe from a side meets first, as a height; far off where it goes through.
double first_met(const std::vector<plan::testing::Interval>& metal, Side side) {
    if (metal.empty()) return 1e6;
    return side == Side::B ? metal.back().high : metal.front().low;
}

bool same(const std::vector<plan::testing::Interval>& a, const std::vector<plan::testing::Interval>& b,
          double within) {
    if (a.size() != b.size()) return false;
    for (std::size_t k = 0; k < a.size(); ++k) {
        if (std::abs(a[k].low - b[k].low) > within || std::abs(a[k].high - b[k].high) > within) return false;
    }
    return true;
}

/// The steepest slope of any cone or broken edge of the random plates: 60 degrees included.
constexpr double steepest = 1.7321;

/// A hidden thread's arc is no edge of the metal as it is modelled.
View without_threads(View view) {
    std::erase_if(view.items, [](const auto& item) {
        const auto* arc = std::get_if<ViewArc>(&item);
        return arc != nullptr && arc->sweep_rad == 1.5 * std::numbers::pi;
    });
    return view;
}

TEST(PlanView, every_curve_of_a_random_plate_lies_where_a_probe_finds_a_change_and_no_change_is_without) {
    plan::for_random_cases([] {
        const auto fair = exchange::testing::any_fair_plate();
        RC_LOG() << fair.file;
        const plan::Plan plan = parts::testing::plan_of(fair.file);
        const Side side = *rc::gen::element(Side::A, Side::B);
        const View view = plan_view(plan, side);
        const auto probe = [&](Point at) {
            return plan::testing::metal_along(plan, plan::seen_from(side, at));
        };
        constexpr double aside = 2e-3;
        for (const LineKind kind : {LineKind::visible, LineKind::hidden}) {
            for (const auto& [at, normal] : testing::spots(without_threads(view), kind, 3)) {
                const auto left = probe({at.x_mm + aside * normal.x_mm, at.y_mm + aside * normal.y_mm});
                const auto right = probe({at.x_mm - aside * normal.x_mm, at.y_mm - aside * normal.y_mm});
                const double step = std::abs(first_met(left, side) - first_met(right, side));
                if (kind == LineKind::visible) RC_ASSERT(step > aside / steepest / 10);
                if (kind == LineKind::hidden) RC_ASSERT(step < 2.1 * aside * steepest);
            }
        }
        // Along a line across the plate: each step in what is met lies on something drawn.
        const plan::Box2 box = plan.body.outline.box();
        const double y =
            *rc::gen::inRange(int(box.least.y_mm * 100), int(box.most.y_mm * 100)) / 100.0 + 0.00313;
        constexpr double stride = 0.05;
        auto before = probe({box.least.x_mm - 1, y});
        for (double x = box.least.x_mm - 1; x < box.most.x_mm + 1; x += stride) {
            const auto now = probe({x + stride, y});
            const Point middle{x + stride / 2, y};
            const bool step =
                std::abs(first_met(before, side) - first_met(now, side)) > 2 * stride * steepest;
            if (step) RC_ASSERT(testing::distance_mm(view, LineKind::visible, middle) < stride);
            if (!step && !same(before, now, 2 * stride * steepest)) {
                RC_ASSERT(std::min(testing::distance_mm(view, LineKind::visible, middle),
                                   testing::distance_mm(view, LineKind::hidden, middle)) < stride);
            }
            before = now;
        }
    });
}

TEST(PlanView, turned_over_twice_it_is_itself) {
    const View view = plan_view(parts::testing::example_plan("pump-plate.json"), Side::A);
    const View back = mirrored_x(mirrored_x(view));
    ASSERT_EQ(back.items.size(), view.items.size());
    for (std::size_t k = 0; k < view.items.size(); ++k) {
        const auto* arc = std::get_if<ViewArc>(&view.items[k]);
        if (arc == nullptr) continue;
        const auto& other = std::get<ViewArc>(back.items[k]);
        EXPECT_NEAR(std::cos(other.from_rad), std::cos(arc->from_rad), 1e-12);
        EXPECT_NEAR(std::sin(other.from_rad), std::sin(arc->from_rad), 1e-12);
    }
}

}  // namespace
}  // namespace fitup::sheets
