#include "sheets/hole_list.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "sheets/hole_plans.hpp"

namespace fitup::sheets {
namespace {

using plan::HoleKind;
using plan::Side;

/// Lines of a plan with this one hole, in order.
std::vector<HoleLine> lines_of(plan::Hole one) { return hole_lines(plate({std::move(one)})); }

std::vector<std::string> tools(const std::vector<HoleLine>& lines) {
    std::vector<std::string> words;
    for (const HoleLine& line : lines) {
        words.push_back(std::string(plan::to_text(line.side)) + " " + line.operation + ": " + line.tool);
    }
    return words;
}

using Words = std::vector<std::string>;

/// 118-degree point: 0.3004 d (published trade article on drilling depths; exact: d/2 / tan 59).
double point_mm(double diameter_mm) { return diameter_mm * 0.300430309513; }

TEST(HoleLines, a_clearance_hole_is_drilled_through_from_its_side) {
    const auto lines = lines_of(hole("housing-1", HoleKind::clearance, {184.0, 49.0}, 10.31875));
    ASSERT_EQ(tools(lines), Words{"B drill: drill 13/32"});
    EXPECT_EQ(lines[0].kind, "clearance");
    EXPECT_TRUE(lines[0].through);
    EXPECT_DOUBLE_EQ(lines[0].x_mm, 184.0);
    EXPECT_DOUBLE_EQ(lines[0].y_mm, 49.0);
    EXPECT_DOUBLE_EQ(lines[0].depth_mm, 40.0);
    EXPECT_NEAR(lines[0].depth_with_point_mm, 40.0 + point_mm(10.31875), 1e-9);
}

TEST(HoleLines, side_a_is_turned_over_about_y) {
    plan::Hole from_a = hole("housing-1", HoleKind::drilled, {184.0, 49.0}, 11.0);
    from_a.from = Side::A;
    const auto lines = lines_of(from_a);
    ASSERT_EQ(tools(lines), Words{"A drill: drill 11.0 mm"});
    EXPECT_DOUBLE_EQ(lines[0].x_mm, -184.0);
    EXPECT_DOUBLE_EQ(lines[0].y_mm, 49.0);
}

TEST(HoleLines, a_recess_is_listed_on_its_own_side) {
    plan::Hole sunk = hole("housing-1", HoleKind::clearance, {100.0, 20.0}, 11.0);
    plan::SunkFastener nut;
    nut.what = "nut";
    nut.designation = "M10";
    sunk.recess = plan::Recess{Side::A, 29.0, 10.4, nut};
    const auto lines = lines_of(sunk);
    ASSERT_EQ(tools(lines), (Words{"B drill: drill 11.0 mm", "A counterbore: counterbore 29 mm"}));
    EXPECT_DOUBLE_EQ(lines[0].x_mm, 100.0);
    EXPECT_DOUBLE_EQ(lines[1].x_mm, -100.0);
    EXPECT_DOUBLE_EQ(lines[1].depth_mm, 10.4);
    EXPECT_DOUBLE_EQ(lines[1].depth_with_point_mm, 10.4);
    EXPECT_EQ(lines[1].note, "for nut M10");
}

TEST(HoleLines, a_tapped_hole_is_drilled_and_tapped) {
    const auto lines = lines_of(tapped("gearbox-1", {10.0, 0.0}, 20.0, 26.0));
    ASSERT_EQ(tools(lines), (Words{"B tap drill: drill 8.5 mm", "B tap: M10 tap"}));
    EXPECT_DOUBLE_EQ(lines[0].depth_mm, 26.0);
    EXPECT_NEAR(lines[0].depth_with_point_mm, 26.0 + point_mm(8.5), 1e-9);
    EXPECT_DOUBLE_EQ(lines[1].depth_mm, 20.0);
    EXPECT_DOUBLE_EQ(lines[1].depth_with_point_mm, 20.0);
    EXPECT_FALSE(lines[1].through);
}

TEST(HoleLines, the_tap_drill_counts_however_the_hole_is_modelled) {
    plan::Hole modelled = tapped("gearbox-1", {10.0, 0.0}, 20.0, 26.0);
    modelled.diameter_mm = 10.0;
    modelled.thread->hand = plan::Hand::left;
    const auto lines = lines_of(modelled);
    EXPECT_DOUBLE_EQ(lines[0].diameter_mm, 8.5);
    EXPECT_EQ(lines[1].tool, "M10 left-hand tap");
}

TEST(HoleLines, a_thread_may_end_in_a_through_hole) {
    plan::Hole part = tapped("gearbox-1", {10.0, 0.0}, 20.0, 40.0);
    part.through = true;
    part.point_angle.reset();
    auto lines = lines_of(part);
    EXPECT_TRUE(lines[0].through);
    EXPECT_FALSE(lines[1].through);
    EXPECT_DOUBLE_EQ(lines[1].depth_mm, 20.0);
    part.thread->depth_mm = 40.0;
    EXPECT_TRUE(lines_of(part)[1].through);
}

TEST(HoleLines, a_dowel_is_drilled_under_size_and_reamed) {
    plan::Hole dowel = blind(hole("dowels-1", HoleKind::dowel, {150.0, 0.0}, 12.0), 16.0);
    dowel.fit = h7(12.0, 18.0);
    const auto lines = lines_of(dowel);
    ASSERT_EQ(tools(lines), (Words{"B drill: drill 11.7 mm", "B ream: reamer 12 mm H7"}));
    EXPECT_EQ(lines[0].note, "for the reamer");
    EXPECT_EQ(lines[1].note, "H7: 12.000 to 12.018 mm, 0.4724 to 0.4731 in");
    EXPECT_DOUBLE_EQ(lines[1].depth_with_point_mm, 16.0);
}

TEST(HoleLines, a_dowel_for_the_assembly_gets_its_pilot_now) {
    plan::Hole dowel = blind(hole("dowels-1", HoleKind::dowel, {150.0, 0.0}, 11.7), 16.0);
    dowel.fit = h7(12.0, 18.0);
    dowel.finish_diameter_mm = 12.0;
    const auto lines = lines_of(dowel);
    ASSERT_EQ(tools(lines), (Words{"B drill: drill 11.7 mm", "B ream at assembly: reamer 12 mm H7"}));
    EXPECT_EQ(lines[0].note, "pilot, reamed to 12 mm H7 at assembly");
}

TEST(HoleLines, a_slot_is_milled_and_its_direction_turns_with_the_side) {
    plan::Hole slot = blind(hole("dowels-2", HoleKind::dowel, {-150.0, 0.0}, 12.0), 16.0);
    slot.point_angle.reset();
    slot.slot_length_mm = 15.0;
    slot.slot_direction = Angle::from_degrees(30.0);
    EXPECT_EQ(lines_of(slot)[0].note, "slot 15 mm long over all, at 30 deg from X");
    slot.from = Side::A;
    EXPECT_EQ(lines_of(slot)[0].note, "slot 15 mm long over all, at 150 deg from X");
    EXPECT_EQ(tools(lines_of(slot)), Words{"A mill slot: end mill for slot 12 mm"});
}

TEST(HoleLines, the_bore_and_holes_beyond_any_drill_are_bored) {
    plan::Hole bore = hole("bore", HoleKind::bore, {}, 150.0);
    bore.fit = h7(150.0, 40.0);
    const auto lines = lines_of(bore);
    ASSERT_EQ(tools(lines), Words{"B bore: bore 150 mm"});
    EXPECT_EQ(lines[0].note, "H7: 150.000 to 150.040 mm, 5.9055 to 5.9071 in");
    EXPECT_DOUBLE_EQ(lines[0].depth_with_point_mm, 40.0);
    EXPECT_EQ(tools(lines_of(hole("x-1", HoleKind::drilled, {}, 30.0))), Words{"B bore: bore 30 mm"});
    EXPECT_EQ(tools(lines_of(hole("x-1", HoleKind::drilled, {}, 25.4))), Words{"B drill: drill 1"});
}

TEST(HoleLines, countersinks_and_flat_bottoms) {
    plan::Hole sunk = blind(hole("x-1", HoleKind::drilled, {}, 6.6), 20.0);
    sunk.point_angle.reset();
    sunk.countersink = plan::Countersink{Side::B, 12.6, Angle::from_degrees(90.0)};
    const auto lines = lines_of(sunk);
    ASSERT_EQ(tools(lines),
              (Words{"B drill: flat-bottom drill 6.6 mm", "B countersink: countersink 90 deg"}));
    EXPECT_DOUBLE_EQ(lines[0].depth_with_point_mm, 20.0);
    EXPECT_NEAR(lines[1].depth_mm, 3.0, 1e-12);
    EXPECT_DOUBLE_EQ(lines[1].diameter_mm, 12.6);
}

TEST(HoleLines, a_size_that_no_drill_has_is_given_in_the_files_unit) {
    plan::Plan made = plate({hole("x-1", HoleKind::drilled, {}, 10.033)});
    EXPECT_EQ(hole_lines(made)[0].tool, "drill 10.033 mm");
    made.units = plan::Units::in;
    EXPECT_EQ(hole_lines(made)[0].tool, "drill 0.395 in");
}

TEST(HoleLines, a_drill_goes_on_through_a_spigot_on_the_far_face) {
    plan::Plan made = plate({hole("in-ring", HoleKind::drilled, {172.0, 0.0}, 10.0),
                             hole("at-its-edge", HoleKind::drilled, {183.0, 0.0}, 10.0),
                             hole("inside-it", HoleKind::drilled, {100.0, 0.0}, 10.0),
                             hole("outside-it", HoleKind::drilled, {190.0, 0.0}, 10.0)});
    const plan::Raised spigot{"register-A",
                              Side::A,
                              plan::Contour(plan::Circle{{}, 181.0}),
                              {plan::Contour(plan::Circle{{}, 165.0})},
                              5.0};
    made.raised = {spigot};
    std::map<std::string, double> depths_mm;
    for (const HoleLine& line : hole_lines(made)) depths_mm[line.id] = line.depth_mm;
    EXPECT_EQ(depths_mm,
              (std::map<std::string, double>{
                  {"in-ring", 45.0}, {"at-its-edge", 45.0}, {"inside-it", 40.0}, {"outside-it", 40.0}}));
}

TEST(HoleLines, sides_tools_and_sizes_come_in_the_order_of_work) {
    plan::Hole bore = hole("bore", HoleKind::bore, {}, 150.0);
    plan::Hole from_a = hole("a-1", HoleKind::drilled, {5.0, 5.0}, 6.0);
    from_a.from = Side::A;
    plan::Hole sunk = hole("s-1", HoleKind::clearance, {60.0, 0.0}, 11.0);
    sunk.recess = plan::Recess{Side::B, 29.0, 10.0, {}};
    const auto lines = hole_lines(plate({from_a, tapped("t-1", {50.0, 0.0}, 20.0, 26.0), sunk, bore,
                                         hole("d-1", HoleKind::drilled, {70.0, 0.0}, 8.5)}));
    EXPECT_EQ(tools(lines),
              (Words{"B bore: bore 150 mm", "B tap drill: drill 8.5 mm", "B drill: drill 8.5 mm",
                     "B drill: drill 11.0 mm", "B counterbore: counterbore 29 mm", "B tap: M10 tap",
                     "A drill: drill 6.0 mm"}));
}

TEST(HoleLines, distances_run_from_zero_with_each_tool) {
    const auto lines = hole_lines(plate({hole("x-1", HoleKind::drilled, {30.0, 40.0}, 6.0),
                                         hole("x-2", HoleKind::drilled, {30.0, 80.0}, 6.0),
                                         hole("y-1", HoleKind::drilled, {60.0, 80.0}, 7.0)}));
    ASSERT_EQ(lines.size(), 3u);
    EXPECT_DOUBLE_EQ(lines[0].from_last_mm, 50.0);
    EXPECT_DOUBLE_EQ(lines[1].from_last_mm, 40.0);
    EXPECT_DOUBLE_EQ(lines[2].from_last_mm, 100.0);
}

/// 200 holes of three tools from both sides: the same lines as hole by hole, each tool in one run, and no run
/// longer than the file's own order.
TEST(HoleLines, sorting_loses_nothing_and_never_lengthens_the_way) {
    std::vector<plan::Hole> holes;
    for (int i = 0; i < 200; ++i) {
        const plan::Point at{(i * 37 % 101) * 3.0 - 150.0, (i * 53 % 97) * 3.0 - 140.0};
        plan::Hole one = hole("h-" + std::to_string(i), HoleKind::drilled, at, 6.0 + i % 3);
        if (i % 5 == 0) one.from = Side::A;
        holes.push_back(one);
    }
    std::map<std::string, std::vector<plan::Point>> file_order;
    std::multiset<std::string> wanted;
    for (const plan::Hole& one : holes) {
        const HoleLine line = lines_of(one).at(0);
        file_order[std::string(plan::to_text(line.side)) + line.tool].push_back({line.x_mm, line.y_mm});
        wanted.insert(line.id);
    }
    std::map<std::string, double> length_mm;
    std::map<std::string, plan::Point> last;
    std::multiset<std::string> listed;
    std::vector<std::string> runs;
    for (const HoleLine& line : hole_lines(plate(holes))) {
        const std::string key = std::string(plan::to_text(line.side)) + line.tool;
        if (runs.empty() || runs.back() != key) runs.push_back(key);
        length_mm[key] += line.from_last_mm;
        last[key] = {line.x_mm, line.y_mm};
        listed.insert(line.id);
    }
    EXPECT_EQ(listed, wanted);
    EXPECT_EQ(runs.size(), 6u);
    for (const auto& [key, stops] : file_order) {
        double file_mm = 0.0;
        plan::Point at;
        for (const plan::Point& stop : stops) {
            file_mm += plan::distance_mm(at, stop);
            at = stop;
        }
        file_mm += plan::distance_mm(at, {});
        EXPECT_LE(length_mm[key] + plan::distance_mm(last[key], {}), 0.5 * file_mm) << key;
    }
}

}  // namespace
}  // namespace fitup::sheets
