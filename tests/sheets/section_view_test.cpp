// Sections: areas against closed forms and against a probe along Z, edges behind the cut against a walk along
// the line of sight.
#include "sheets/section_view.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <numbers>
#include <set>

#include "exchange/random_plates.hpp"
#include "parts/examples.hpp"
#include "parts/plates.hpp"
#include "plan/property.hpp"
#include "sheets/cut_metal.hpp"
#include "sheets/metal_map.hpp"
#include "sheets/sight.hpp"
#include "sheets/view_lines.hpp"
#include "sheets/views.hpp"

namespace fitup::sheets {
namespace {

using plan::Point;

double area_mm2(const View& view) {
    double sum = 0.0;
    for (const plan::Area& area : testing::areas(view)) sum += plan::area_mm2(area);
    return sum;
}

plan::Plan plate_with(const std::string& extra) { return parts::testing::plan_with(extra); }

View along_x(const plan::Plan& plan) {
    return section_view(plan, straight_cut(plan, {}, Angle::from_degrees(0)), {.with_behind = false});
}

// The plate is 430 wide and 40 thick; each feature is cut through its axis.
TEST(SectionView, a_plain_bore_leaves_two_rectangles) {
    const View view = along_x(plate_with(R"("bore": {"diameter": 150})"));
    EXPECT_EQ(testing::areas(view).size(), 2u);
    EXPECT_NEAR(area_mm2(view), (430 - 150) * 40, 1e-9);
    EXPECT_NEAR(box(view).least.x_mm, -215, 1e-9);
}

TEST(SectionView, a_blind_tapped_hole_takes_its_drill_and_the_drills_point) {
    const plan::Plan plan = plate_with(parts::testing::pattern(
        R"("points": [[100, 0]])", R"({"kind": "tapped", "thread": "M10", "depth": 20, "drill_depth": 26})"));
    const View view = along_x(plan);
    const double tip = 4.25 / std::tan(59 * std::numbers::pi / 180);
    EXPECT_EQ(testing::areas(view).size(), 1u);
    EXPECT_NEAR(area_mm2(view), 430 * 40 - 8.5 * 26 - 8.5 * tip / 2, 1e-9);
    const auto threads = testing::lines(view, LineKind::thread);
    ASSERT_EQ(threads.size(), 2u);
    std::set<double> places;
    for (const ViewLine& line : threads) {
        places.insert(line.points[0].x_mm);
        EXPECT_NEAR(std::min(line.points[0].y_mm, line.points[1].y_mm), 20, 1e-9);
        EXPECT_NEAR(std::max(line.points[0].y_mm, line.points[1].y_mm), 40, 1e-9);
    }
    EXPECT_EQ(places, (std::set<double>{95, 105}));
    // The end of the full thread, across to the major diameter.
    const auto edges = testing::lines(view, LineKind::visible);
    EXPECT_TRUE(std::any_of(edges.begin(), edges.end(), [](const ViewLine& line) {
        return line.points[0] == Point{95, 20} && line.points[1] == Point{105, 20};
    }));
    ASSERT_NE(testing::mark(view, "p-1"), nullptr);
    EXPECT_NEAR(testing::mark(view, "p-1")->at.x_mm, 100, 1e-9);
    EXPECT_NEAR(testing::mark(view, "p-1")->at.y_mm, 40, 1e-9);
}

TEST(SectionView, recess_and_countersink_widen_their_hole) {
    const View recess = along_x(plate_with(parts::testing::pattern(
        R"("points": [[100, 0]])",
        R"({"kind": "drilled", "diameter": 11, "recess": {"side": "B", "diameter": 30, "depth": 9}})")));
    EXPECT_NEAR(area_mm2(recess), 430 * 40 - 30 * 9 - 11 * 31, 1e-9);
    const View sink = along_x(plate_with(parts::testing::pattern(
        R"("points": [[100, 0]])",
        R"({"kind": "drilled", "diameter": 9, "countersink": {"side": "A", "diameter": 18, "angle": 90}})")));
    EXPECT_NEAR(area_mm2(sink), 430 * 40 - 9 * 40 - 4.5 * 4.5, 1e-9);
}

TEST(SectionView, registers_stand_out_and_reach_in) {
    const View view = along_x(plate_with(R"("bore": {"diameter": 100}, "registers": [
        {"side": "A", "kind": "spigot", "diameter": 300, "bore": 260, "height": 5},
        {"side": "B", "kind": "recess", "diameter": 170, "depth": 6}])"));
    EXPECT_NEAR(area_mm2(view), (430 - 100) * 40 + 2 * 20 * 5 - 70 * 6, 1e-9);
    EXPECT_NEAR(box(view).least.y_mm, -5, 3.1);
}

/// A cone cut beside its axis leaves a hyperbola: z = (sqrt(x^2 + d^2) - r) / tan of half its angle.
TEST(SectionView, a_countersink_cut_beside_its_axis_leaves_a_hyperbola) {
    const plan::Plan plan = plate_with(parts::testing::pattern(
        R"("points": [[100, 3]])",
        R"({"kind": "drilled", "diameter": 4, "countersink": {"side": "B", "diameter": 20, "angle": 90}})"));
    const View view = along_x(plan);
    const double half = std::sqrt(100.0 - 9.0);
    // The integral of 10 - sqrt(x^2 + 9) over -half to half; the hole itself (radius 2) is not met at 3.
    const double taken = 2 * (10 * half - (half * 10 + 9 * std::asinh(half / 3)) / 2);
    EXPECT_NEAR(area_mm2(view), 430 * 40 - taken, 2 * half * 1e-3);
    EXPECT_GT(std::abs(area_mm2(view) - 430 * 40), 1.0);
}

TEST(SectionView, a_pinch_bolts_hole_is_round_across_it_and_straight_along_it) {
    const plan::Plan arm = parts::testing::example_plan("deck-arm.json");
    ASSERT_EQ(arm.cross_holes.size(), 2u);
    const plan::CrossHole& clear = arm.cross_holes[0];
    const double y_mm = clear.at_mm[1] - clear.depth_mm / 2;
    const MetalMap metal(arm);
    const auto cut = [&](Point from, Point to) {
        double sum = 0.0;
        for (const plan::Area& area : cut_metal(metal, {{{from, to, 0.0}}})) sum += plan::area_mm2(area);
        return sum;
    };
    const double x_mm = clear.at_mm[0], r_mm = clear.diameter_mm / 2;
    // Across the lug beside the slit: a block as high as the lug, less a circle.
    const double across = cut({x_mm - r_mm - 1, y_mm}, {x_mm + r_mm + 1, y_mm});
    EXPECT_NEAR(across, (2 * r_mm + 2) * arm.arm->clamp->lug_height_mm - std::numbers::pi * r_mm * r_mm,
                2 * r_mm * 2e-3);
    const double along = cut({x_mm, y_mm - 1}, {x_mm, y_mm + 1});
    EXPECT_NEAR(along, 2 * (arm.arm->clamp->lug_height_mm - 2 * r_mm), 1e-9);
}

TEST(ChosenCut, shows_one_hole_of_each_callout_of_the_winchs_plate) {
    const plan::Plan plan = parts::testing::example_plan("winch-adapter.json");
    const CuttingLine line = chosen_cut(plan);
    std::set<std::string> patterns;
    for (const ViewMark& mark : section_view(plan, line).marks)
        patterns.insert(mark.id.substr(0, mark.id.find('-')));
    EXPECT_EQ(patterns, (std::set<std::string>{"bore", "housing", "gearbox", "dowels", "jacking"}));
    // Its planes follow on one another without a gap, and meet at the bore's axis.
    for (std::size_t k = 0; k + 1 < line.pieces.size(); ++k)
        EXPECT_NEAR(line.pieces[k].to_mm(), line.pieces[k + 1].from_mm, 1e-9);
    EXPECT_NEAR(*place_on(line, {}), 0.0, 1e-9);
    EXPECT_NEAR(line.pieces.front().from_mm, -215, 1e-9);
    EXPECT_NEAR(line.pieces.back().to_mm(), 215, 1e-9);
}

TEST(ChosenCut, goes_through_hub_and_both_eyes_of_a_crank) {
    const plan::Plan plan = parts::testing::example_plan("selector-crank.json");
    const View view = section_view(plan, chosen_cut(plan));
    for (const char* id : {"pivot", "rod", "selector", "rod-lightening"})
        EXPECT_NE(testing::mark(view, id), nullptr) << id;
    // Hub 30 x 20 from -6; web of 8 from eye (18) to hub; selector's eye 10 high; each less its hole.
    const double tap = plan.holes[plan.crank->arms[1].eye_hole].diameter_mm;
    const double hub = (30 - 14) * 20;
    const double rod = (64 + 9 - 15 - 2 * 6.4 - 10) * 8;
    const double selector = (29 - 9 - 15) * 8 + (18 - tap) * 10;
    EXPECT_NEAR(area_mm2(view), hub + rod + selector, 1e-9);
}

TEST(ChosenCut, without_holes_goes_along_x) {
    const CuttingLine line = chosen_cut(plate_with(R"("bore": {"diameter": 80})"));
    ASSERT_EQ(line.pieces.size(), 2u);
    EXPECT_NEAR(line.pieces[0].from.x_mm, -215, 1e-9);
    EXPECT_NEAR(line.pieces[1].to.x_mm, 215, 1e-9);
    const CutMark mark = cut_mark(line, plan::Side::B, 5.0);
    ASSERT_EQ(mark.line.size(), 2u);  // straight through, no corner
    EXPECT_NEAR(mark.line[0].x_mm, -220, 1e-9);
    EXPECT_EQ(mark.first.look, (Point{0, 1}));
}

CuttingLine any_cut(const plan::Plan& plan) {
    const int kind = *rc::gen::inRange(0, 3);
    const auto any_angle = [] { return Angle::from_degrees(*rc::gen::inRange(0, 3600) / 10.0 + 0.0123); };
    if (kind == 0) return chosen_cut(plan);
    if (kind == 1) return aligned_cut(plan, any_angle(), any_angle());
    const double x = *rc::gen::inRange(-400, 400) / 10.0, y = *rc::gen::inRange(-400, 400) / 10.0;
    return straight_cut(plan, {x, y}, any_angle());
}

/// The place of the plan under a place of the view, its line of sight, and how far the plane goes.
std::optional<std::pair<Point, Point>> plane_at(const CuttingLine& line, double x_mm) {
    for (const CutPiece& piece : line.pieces) {
        if (x_mm <= piece.from_mm + 1e-3 || x_mm >= piece.to_mm() - 1e-3) continue;
        const double share = (x_mm - piece.from_mm) / piece.length_mm();
        const double x = piece.to.x_mm - piece.from.x_mm, y = piece.to.y_mm - piece.from.y_mm;
        return {{{piece.from.x_mm + share * x, piece.from.y_mm + share * y},
                 {-y / piece.length_mm(), x / piece.length_mm()}}};
    }
    return std::nullopt;
}

/// Up and down over a whole contour of lines.
double rise_mm(const plan::Contour& contour) {
    double sum = 0.0;
    const auto edges = contour.edges();
    for (std::size_t k = 0; k < edges.size(); ++k)
        sum += std::abs(edges[(k + 1) % edges.size()].from.y_mm - edges[k].from.y_mm);
    return sum;
}

TEST(SectionView, metal_of_a_random_plate_is_where_a_probe_finds_it) {
    plan::for_random_cases([] {
        const auto fair = exchange::testing::any_fair_plate();
        RC_LOG() << fair.file;
        const plan::Plan plan = parts::testing::plan_of(fair.file);
        const CuttingLine line = any_cut(plan);
        const View view = section_view(plan, line, {.with_behind = false});
        const auto areas = testing::areas(view);
        const double first = line.pieces.front().from_mm, last = line.pieces.back().to_mm();
        double probed = 0.0;
        constexpr int strips = 600;
        const double width = (last - first) / strips;
        for (int k = 0; k < strips; ++k) {
            const double x = first + (k + 0.5) * width;
            const auto at = plane_at(line, x);
            if (!at) continue;
            const auto metal = plan::testing::metal_along(plan, at->first);
            for (const auto& one : metal) {
                probed += width * (one.high - one.low);
                // Just inside of each end there is metal, just outside there is none.
                const auto has = [&](double z) {
                    return std::any_of(areas.begin(), areas.end(), [&](const plan::Area& area) {
                        return plan::testing::is_in(area, {x, z});
                    });
                };
                if (one.high - one.low < 0.02) continue;
                RC_ASSERT(has(one.low + 5e-3) && has(one.high - 5e-3));
                RC_ASSERT(!has(one.low - 5e-3) && !has(one.high + 5e-3));
            }
        }
        const plan::Box2 whole = box(view);
        RC_ASSERT(whole.least.x_mm >= first - 1e-6 && whole.most.x_mm <= last + 1e-6);
        // Each upright edge costs the sum of strips half a strip at most.
        double upright = 0.0, sum = 0.0;
        for (const plan::Area& area : areas) {
            sum += plan::area_mm2(area);
            upright += rise_mm(area.outer);
            for (const plan::Contour& island : area.islands) upright += rise_mm(island);
        }
        RC_ASSERT(std::abs(sum - probed) < width / 2 * upright + 1e-6);
        for (const ViewMark& mark : view.marks) {
            const plan::Hole& hole = parts::testing::hole_named(plan, mark.id);
            const auto under = plane_at(line, mark.at.x_mm);
            if (under) RC_ASSERT(plan::distance_mm(under->first, hole.at_mm) < 2e-6);
        }
    });
}

/// Distance to the first metal along the line of sight, by walking; nothing for none.
std::optional<double> walked(const plan::Plan& plan, const std::pair<Point, Point>& sight, double z,
                             double stride) {
    for (double away = 0.0; away < 500.0; away += stride) {
        const Point at{sight.first.x_mm + away * sight.second.x_mm,
                       sight.first.y_mm + away * sight.second.y_mm};
        for (const auto& one : plan::testing::metal_along(plan, at)) {
            if (one.low < z && z < one.high) return away;
        }
    }
    return std::nullopt;
}

TEST(SectionView, where_the_distance_jumps_behind_the_cut_of_a_random_plate_there_is_an_edge) {
    int jumps = 0;
    plan::for_random_cases(
        [&jumps] {
            const auto fair = exchange::testing::any_fair_plate();
            RC_LOG() << fair.file;
            const plan::Plan plan = parts::testing::plan_of(fair.file);
            const CuttingLine line = any_cut(plan);
            const View view = section_view(plan, line);
            const double first = line.pieces.front().from_mm, last = line.pieces.back().to_mm();
            for (int k = 0; k < 12; ++k) {
                const double x = first + (last - first) * (*rc::gen::inRange(0, 10000) + 0.5) / 10000.0;
                const double z = plan.body.thickness_mm * (*rc::gen::inRange(0, 1000) + 0.5) / 1000.0;
                constexpr double aside = 0.05, stride = 0.25;
                for (const Point by : {Point{aside, 0}, Point{0, aside}}) {
                    const auto here = plane_at(line, x - by.x_mm), there = plane_at(line, x + by.x_mm);
                    if (!here || !there || plan::distance_mm(here->first, there->first) > 3 * aside) continue;
                    const auto a = walked(plan, *here, z - by.y_mm, stride),
                               b = walked(plan, *there, z + by.y_mm, stride);
                    const bool jump = a.has_value() != b.has_value() || (a && std::abs(*a - *b) > 8.0);
                    if (!jump) continue;
                    ++jumps;
                    RC_ASSERT(testing::distance_mm(view, LineKind::visible, {x, z}) < 1.5 * aside);
                }
            }
        },
        // As many under the sanitizers, so that some jumps are met for certain.
        100);
    EXPECT_GT(jumps, 0);
}

TEST(EdgesBehind, a_bore_shows_its_two_rims_and_a_block_its_corners) {
    const plan::Plan plan = parts::testing::plan_with(
        R"("bore": {"diameter": 100})",
        {.outline = R"({"rectangle": {"width": 200, "height": 120, "corner_radius": 0}})"});
    const MetalMap metal(plan);
    auto edges = edges_behind(metal, straight_cut(plan, {}, Angle()).pieces.front());
    ASSERT_EQ(edges.size(), 2u);
    for (const auto& edge : edges) {
        EXPECT_NEAR(edge[0].x_mm, -50, 1e-5);
        EXPECT_NEAR(edge[1].x_mm, 50, 1e-5);
        EXPECT_EQ(edge[0].y_mm, edge[1].y_mm);
    }
    // From outside, square on: a rectangle. From the corner: its three upright edges and the ends.
    edges = edges_behind(metal, straight_cut(plan, {0, -100}, Angle()).pieces.front());
    EXPECT_EQ(edges.size(), 4u);
    edges = edges_behind(metal, straight_cut(plan, {100, -100}, Angle::from_degrees(45)).pieces.front());
    EXPECT_EQ(edges.size(), 5u);
}

TEST(EdgesBehind, a_spigot_is_seen_below_the_plate_and_its_inside_behind_the_bore) {
    const plan::Plan plan = plate_with(R"("bore": {"diameter": 100},
        "registers": [{"side": "A", "kind": "spigot", "diameter": 300, "bore": 260, "height": 5}])");
    const auto edges = edges_behind(MetalMap(plan), straight_cut(plan, {}, Angle()).pieces.front());
    const auto has = [&](double z, double half) {
        return std::any_of(edges.begin(), edges.end(), [&](const auto& edge) {
            return std::abs(edge[0].y_mm - z) < 1e-6 && std::abs(edge[1].y_mm - z) < 1e-6 &&
                   std::abs(edge[0].x_mm + half) < 1e-5 && std::abs(edge[1].x_mm - half) < 1e-5;
        });
    };
    EXPECT_TRUE(has(-5, 130));
    EXPECT_TRUE(has(40, 50));
    EXPECT_EQ(edges.size(), 3u);  // and face A, between the spigot's walls
}

}  // namespace
}  // namespace fitup::sheets
