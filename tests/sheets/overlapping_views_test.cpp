// Views of parts whose features overlap in every way: cut metal and curves in sight against a probe along Z.
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>

#include "plan/cuts.hpp"
#include "plan/metal.hpp"
#include "plan/plates.hpp"
#include "plan/property.hpp"
#include "plan/seen_from.hpp"
#include "sheets/cut_metal.hpp"
#include "sheets/plan_view.hpp"
#include "sheets/section_view.hpp"
#include "sheets/views.hpp"

namespace fitup::sheets {
namespace {

using plan::Point;
using plan::Side;

double number(double least, double most) {
    return least + (most - least) * *rc::gen::inRange(0, 1001) / 1000.0;
}
Side any_side() { return *rc::gen::element(Side::A, Side::B); }
Point any_place() { return {number(-45, 45), number(-45, 45)}; }

plan::Hole any_hole(int index, double thickness_mm) {
    plan::Hole hole = plan::testing::through_hole("h-" + std::to_string(index), any_place(), number(2, 16));
    hole.from = any_side();
    hole.depth_mm = thickness_mm;
    const int kind = *rc::gen::inRange(0, 4);
    if (kind == 1) {
        hole.through = false;
        hole.depth_mm = number(1, thickness_mm);
        hole.point_angle = Angle::from_degrees(*rc::gen::element(60, 90, 118));
    }
    if (kind == 2)
        hole.recess = plan::Recess{any_side(), hole.diameter_mm + number(1, 14), number(1, thickness_mm), {}};
    if (kind == 3)
        hole.countersink =
            plan::Countersink{any_side(), hole.diameter_mm + number(1, 14), Angle::from_degrees(90)};
    return hole;
}

plan::Pocket any_pocket(int index, double thickness_mm) {
    const Point at = any_place();
    plan::Area area{plan::Contour(plan::Circle{at, number(2, 18)}), {}};
    if (*rc::gen::inRange(0, 2) == 0)
        area.outer =
            plan::rectangle(at, number(4, 40), number(4, 30), 0.0, Angle::from_degrees(number(0, 90)));
    return plan::testing::pocket("relief-" + std::to_string(index), any_side(), number(1, thickness_mm - 0.5),
                                 std::move(area));
}

/// A disc with a ring and up to nine cuts, wherever they come.
plan::Plan any_muddle() {
    plan::Plan plan = plan::testing::disc(100, number(8, 24));
    const double thickness_mm = plan.body.thickness_mm;
    if (*rc::gen::inRange(0, 2) == 0)
        plan.raised.push_back({"register-A",
                               any_side(),
                               plan::Contour(plan::Circle{{number(-4, 4), 0}, number(20, 42)}),
                               {plan::Contour(plan::Circle{{number(-4, 4), 0}, number(5, 15)})},
                               number(1, 6)});
    const int holes = *rc::gen::inRange(1, 7), pockets = *rc::gen::inRange(0, 4);
    for (int k = 0; k < holes; ++k) plan.holes.push_back(any_hole(k, thickness_mm));
    // The probe takes a drill whose tip comes out for one that goes through the ring beyond, too.
    for (plan::Hole& hole : plan.holes) {
        if (!plan.raised.empty() && !hole.through && hole.depth_mm + hole.diameter_mm > thickness_mm)
            hole.point_angle.reset();
    }
    for (int k = 0; k < pockets; ++k) plan.pockets.push_back(any_pocket(k, thickness_mm));
    return plan;
}

/// What a failing case is made of.
std::string described(const plan::Plan& plan) {
    std::string text = "thickness " + std::to_string(plan.body.thickness_mm) + "\n";
    for (const plan::Cut& cut : plan::cuts(plan)) {
        const plan::Box2 box = cut.area.outer.box();
        text += cut.id + " x " + std::to_string(box.least.x_mm) + " to " + std::to_string(box.most.x_mm) +
                " y " + std::to_string(box.least.y_mm) + " to " + std::to_string(box.most.y_mm) + " z " +
                std::to_string(cut.z_low_mm) + " to " + std::to_string(cut.z_high_mm) +
                (cut.cone ? " cone\n" : "\n");
    }
    for (const plan::Raised& ring : plan.raised)
        text +=
            std::string("ring on ") + plan::to_text(ring.side) + " " + std::to_string(ring.height_mm) + "\n";
    return text;
}

TEST(OverlappingFeatures, cut_metal_is_where_a_probe_finds_it) {
    plan::for_random_cases([] {
        const plan::Plan plan = any_muddle();
        const CuttingLine line = *rc::gen::inRange(0, 2) == 0
                                     ? chosen_cut(plan)
                                     : straight_cut(plan, any_place(), Angle::from_degrees(number(0, 360)));
        const auto areas = cut_metal(MetalMap(plan), line);
        for (const CutPiece& piece : line.pieces) {
            for (int k = 0; k < 150; ++k) {
                const double share = (k + 0.4142) / 150;
                const double x = piece.from_mm + share * piece.length_mm();
                const Point at{piece.from.x_mm + share * (piece.to.x_mm - piece.from.x_mm),
                               piece.from.y_mm + share * (piece.to.y_mm - piece.from.y_mm)};
                const auto metal = plan::testing::metal_along(plan, at);
                const double z = number(-7, plan.body.thickness_mm + 7);
                const bool is_near = std::any_of(metal.begin(), metal.end(), [&](const auto& one) {
                    return std::abs(one.low - z) < 3e-3 || std::abs(one.high - z) < 3e-3;
                });
                if (is_near) continue;
                const bool probed = std::any_of(metal.begin(), metal.end(),
                                                [&](const auto& one) { return one.low < z && z < one.high; });
                const bool drawn = std::any_of(areas.begin(), areas.end(), [&](const plan::Area& area) {
                    return plan::testing::is_in(area, {x, z});
                });
                if (probed != drawn)
                    RC_LOG() << described(plan) << "at " << at.x_mm << " " << at.y_mm << " x " << x << " z "
                             << z << " drawn " << drawn;
                RC_ASSERT(probed == drawn);
            }
        }
        // And it draws, edges behind it and all.
        RC_ASSERT(!section_view(plan, line).items.empty());
    });
}

double first_met(const std::vector<plan::testing::Interval>& metal, Side side) {
    if (metal.empty()) return 1e6;
    return side == Side::B ? metal.back().high : metal.front().low;
}

TEST(OverlappingFeatures, a_side_shows_a_curve_where_the_height_in_sight_steps_and_nowhere_else) {
    plan::for_random_cases([] {
        const plan::Plan plan = any_muddle();
        const Side side = any_side();
        const View view = plan_view(plan, side, {.with_hidden = false});
        const auto met = [&](Point at) {
            return first_met(plan::testing::metal_along(plan, plan::seen_from(side, at)), side);
        };
        constexpr double aside = 2e-3, steepest = 1.7321;
        for (const auto& [at, normal] : testing::spots(view, LineKind::visible, 3)) {
            const Point left{at.x_mm + aside * normal.x_mm, at.y_mm + aside * normal.y_mm};
            const Point right{at.x_mm - aside * normal.x_mm, at.y_mm - aside * normal.y_mm};
            // A step, or a crease: the middle is off the mean of both sides.
            const double a = met(left), b = met(right);
            const Point far_left{at.x_mm + 2 * aside * normal.x_mm, at.y_mm + 2 * aside * normal.y_mm};
            const Point far_right{at.x_mm - 2 * aside * normal.x_mm, at.y_mm - 2 * aside * normal.y_mm};
            const double crease = std::abs((met(far_left) - a) - (b - met(far_right)));
            if (!(std::abs(a - b) > 1e-4 || crease > 1e-4))
                RC_LOG() << described(plan) << "at " << at.x_mm << " " << at.y_mm << " " << a << " from "
                         << plan::to_text(side);
            RC_ASSERT(std::abs(a - b) > 1e-4 || crease > 1e-4);
        }
        const double y = number(-49, 49) + 0.00313;
        constexpr double stride = 0.05;
        double before = met({-51, y});
        for (double x = -51; x < 51; x += stride) {
            const double now = met({x + stride, y});
            if (std::abs(before - now) > 2 * stride * steepest)
                RC_ASSERT(testing::distance_mm(view, LineKind::visible, {x + stride / 2, y}) < stride);
            before = now;
        }
    });
}

}  // namespace
}  // namespace fitup::sheets
