#include "parts/hole_shape.hpp"
#include "parts/plates.hpp"
#include "trade/trade.hpp"

namespace fitup::parts {
namespace {

using namespace testing;
using plan::HoleKind;
using plan::Side;

TEST(Hole, without_depth_goes_through_from_b) {
    const plan::Hole hole = hole_of(R"({"kind": "drilled", "diameter": 8})");
    EXPECT_EQ(hole.kind, HoleKind::drilled);
    EXPECT_EQ(hole.from, Side::B);
    EXPECT_TRUE(hole.through);
    EXPECT_EQ(hole.depth_mm, 40.0);
    EXPECT_FALSE(hole.point_angle);
}

TEST(Hole, a_blind_one_has_a_point_of_118_degrees_unless_flat) {
    const auto pointed = hole_of(R"({"kind": "drilled", "diameter": 8, "from": "A", "depth": 12})");
    EXPECT_EQ(pointed.from, Side::A);
    EXPECT_FALSE(pointed.through);
    EXPECT_EQ(pointed.depth_mm, 12.0);
    EXPECT_EQ(pointed.point_angle, Angle::from_degrees(118.0));
    EXPECT_FALSE(hole_of(R"({"kind": "drilled", "diameter": 8, "depth": 12, "point": "flat"})").point_angle);
    const auto steep = hole_of(R"({"kind": "drilled", "diameter": 8, "depth": 12, "point": 135})");
    EXPECT_EQ(steep.point_angle, Angle::from_degrees(135.0));
}

// ISO 273 medium series: M10 11 mm. ASME B18.2.8 normal: 3/8 is drill 13/32, 10.31875 mm.
TEST(Hole, clearance_comes_from_the_table) {
    const auto metric = hole_of(R"({"kind": "clearance", "for": "M10"})");
    EXPECT_EQ(metric.diameter_mm, 11.0);
    ASSERT_TRUE(metric.fastener);
    EXPECT_EQ(metric.fastener->diameter_mm, 10.0);
    const auto inch = hole_of(R"({"kind": "clearance", "for": "3/8"})");
    EXPECT_NEAR(inch.diameter_mm, 13.0 / 32.0 * 25.4, 1e-9);
    const auto close = hole_of(R"({"kind": "clearance", "for": "3/8-16", "fit": "close"})");
    EXPECT_NEAR(close.diameter_mm, 25.0 / 64.0 * 25.4, 1e-9);
    EXPECT_EQ(close.fastener->designation, "3/8-16 UNC");
}

// ISO 2306: tap drill of M10 8.5 mm; ISO 68-1: minor diameter d - 1.082532 P.
TEST(Hole, a_tapped_one_is_modelled_at_its_tap_drill_unless_told_otherwise) {
    const auto plain = hole_of(R"({"kind": "tapped", "thread": "M10x1.5"})");
    ASSERT_TRUE(plain.thread);
    EXPECT_EQ(plain.diameter_mm, 8.5);
    EXPECT_EQ(plain.thread->designation, "M10");
    EXPECT_EQ(plain.thread->hand, plan::Hand::right);
    const auto minor = hole_of(R"({"kind": "tapped", "thread": "M10", "model_as": "minor"})");
    EXPECT_NEAR(minor.diameter_mm, 10.0 - 1.082532 * 1.5, 1e-5);
    EXPECT_EQ(minor.thread->tap_drill_mm, 8.5);
    EXPECT_EQ(hole_of(R"({"kind": "tapped", "thread": "M10", "model_as": "major"})").diameter_mm, 10.0);
    const auto real = hole_of(R"({"kind": "tapped", "thread": "M10", "model_as": "thread"})");
    EXPECT_TRUE(real.thread->modelled);
    EXPECT_EQ(real.diameter_mm, real.thread->minor_mm);
    EXPECT_FALSE(minor.thread->modelled);
    EXPECT_EQ(hole_of(R"({"kind": "tapped", "thread": "M10", "hand": "left"})").thread->hand,
              plan::Hand::left);
}

TEST(Hole, a_thread_through_is_as_long_as_the_plate_is_thick) {
    const std::string texts[] = {R"({"kind": "tapped", "thread": "M10"})",
                                 R"({"kind": "tapped", "thread": "M10", "depth": "through"})"};
    for (const std::string& text : texts) {
        const auto hole = hole_of(text);
        EXPECT_TRUE(hole.through);
        EXPECT_EQ(hole.thread->depth_mm, 40.0);
    }
}

TEST(Hole, a_blind_threads_drill_goes_five_pitches_deeper) {
    const auto hole = hole_of(R"({"kind": "tapped", "thread": "M10", "depth": 20})");
    EXPECT_EQ(hole.thread->depth_mm, 20.0);
    EXPECT_FALSE(hole.through);
    EXPECT_NEAR(hole.depth_mm, 20.0 + 5.0 * 1.5, 1e-12);
}

// Point of an 8.5 mm drill, 118 degrees: 4.25 / tan 59 deg = 2.5537 mm (handbook rule: 0.3 d = 2.55).
TEST(Hole, a_blind_threads_drill_leaves_the_least_floor_under_its_point) {
    const auto hole = hole_of(R"({"kind": "tapped", "thread": "M10", "depth": 20})", {.thickness = "30"});
    EXPECT_NEAR(hole.depth_mm, 30.0 - least_floor_mm - 2.5537, 1e-4);
    const auto flat =
        hole_of(R"({"kind": "tapped", "thread": "M10", "depth": 20, "point": "flat"})", {.thickness = "28"});
    EXPECT_NEAR(flat.depth_mm, 28.0 - least_floor_mm, 1e-12);
    const auto no_room = hole_of(R"({"kind": "tapped", "thread": "M10", "depth": 20})", {.thickness = "21"});
    EXPECT_EQ(no_room.depth_mm, 20.0);
}

TEST(Hole, a_drill_depth_of_its_own_counts) {
    const auto hole = hole_of(R"({"kind": "tapped", "thread": "M10", "depth": 20, "drill_depth": 26})");
    EXPECT_EQ(hole.depth_mm, 26.0);
    const auto through =
        hole_of(R"({"kind": "tapped", "thread": "M10", "depth": 20, "drill_depth": "through"})");
    EXPECT_TRUE(through.through);
    EXPECT_EQ(through.thread->depth_mm, 20.0);
    EXPECT_EQ(through.depth_mm, 40.0);
}

// A published article on drilling depths for tapping: drill 17/32 in, 118 degrees: point 0.159 in.
TEST(Hole, a_drills_point_is_as_high_as_published) {
    EXPECT_NEAR(point_height_mm(17.0 / 32.0 * 25.4, Angle::from_degrees(118.0)) / 25.4, 0.159, 0.0007);
}

// ISO 286-2: H7 over 10 to 18 mm is 0 / +18 micrometres.
TEST(Hole, a_dowel_is_at_basic_size_with_its_limits) {
    const auto hole = hole_of(R"({"kind": "dowel", "diameter": 12, "fit": "H7", "depth": 16})");
    EXPECT_EQ(hole.diameter_mm, 12.0);
    EXPECT_FALSE(hole.finish_diameter_mm);
    ASSERT_TRUE(hole.fit);
    EXPECT_EQ(hole.fit->lower_um, 0.0);
    EXPECT_EQ(hole.fit->upper_um, 18.0);
}

TEST(Hole, reamed_at_assembly_leaves_the_largest_drill_three_tenths_under) {
    const std::string text = R"({"kind": "dowel", "diameter": 12, "depth": 16, "finish": "at assembly"})";
    const auto hole = hole_of(text);
    EXPECT_EQ(hole.finish_diameter_mm, 12.0);
    EXPECT_EQ(hole.diameter_mm, trade::largest_drill_up_to(11.7, false)->diameter_mm);
    EXPECT_LE(hole.diameter_mm, 11.7);
    EXPECT_GT(hole.diameter_mm, 11.0);
    const auto stated =
        hole_of(R"({"kind": "dowel", "diameter": 12, "depth": 16, "finish": "at assembly", "pilot": 11.5})");
    EXPECT_EQ(stated.diameter_mm, 11.5);
}

TEST(Hole, an_inch_files_pilot_is_an_inch_drill) {
    const auto hole = hole_of(R"({"kind": "dowel", "diameter": 0.5, "depth": 1, "finish": "at assembly"})",
                              {.units = "in", .thickness = "1.5"});
    EXPECT_EQ(hole.diameter_mm, trade::largest_drill_up_to(12.4, true)->diameter_mm);
    EXPECT_EQ(hole.finish_diameter_mm, 12.7);
}

TEST(Hole, a_dowel_slot_points_to_the_hole_that_it_names) {
    const auto plan = plan_with(R"("patterns": [
        {"name": "slotted", "seen_from": "A", "points": [[100, 50]],
         "hole": {"kind": "dowel", "diameter": 10, "depth": 12, "slot": {"length": 14, "toward": "round-1"}}},
        {"name": "round", "seen_from": "B", "points": [[-100, 150]], "hole": {"kind": "dowel", "diameter": 10}},
        {"name": "across", "seen_from": "A", "points": [[150, 0]], "rotate": 10,
         "hole": {"kind": "dowel", "diameter": 10, "slot": {"length": 14, "direction": 20}}}])");
    const auto& toward = hole_named(plan, "slotted-1");
    EXPECT_EQ(toward.slot_length_mm, 14.0);
    EXPECT_FALSE(toward.point_angle) << "a slot is milled flat";
    EXPECT_NEAR(toward.slot_direction.degrees(), 90.0, 1e-9) << "both lie at x = -100 in the plate's frame";
    EXPECT_NEAR(hole_named(plan, "across-1").slot_direction.degrees(), 180.0 - 30.0, 1e-9);
}

TEST(Hole, every_length_may_have_its_own_unit) {
    const auto in_mm = plan_with(R"("bore": {"diameter": "6 in"}, )" +
                                 pattern(R"("points": [["4 in", "-1-1/2 in"]])",
                                         R"({"kind": "drilled", "diameter": "3/8 in", "depth": "0.5 in"})"));
    const auto in_inches =
        plan_with(R"("bore": {"diameter": 6}, )" +
                      pattern(R"("points": [[4, -1.5]])",
                              R"({"kind": "drilled", "diameter": 0.375, "depth": "12.7 mm"})"),
                  {.units = "in", .thickness = "\"40 mm\"", .outline = R"({"round": {"diameter": 17}})"});
    ASSERT_EQ(in_mm.holes.size(), 2u);
    EXPECT_EQ(in_mm.holes[0].diameter_mm, in_inches.holes[0].diameter_mm);
    EXPECT_NEAR(in_mm.holes[1].at_mm.x_mm, in_inches.holes[1].at_mm.x_mm, 1e-12);
    EXPECT_NEAR(in_mm.holes[1].at_mm.y_mm, -38.1, 1e-12);
    EXPECT_NEAR(in_mm.holes[1].diameter_mm, 9.525, 1e-12);
    EXPECT_NEAR(in_mm.holes[1].depth_mm, in_inches.holes[1].depth_mm, 1e-12);
}

TEST(Bore, is_a_hole_named_bore_through_the_plate) {
    const auto plan = plan_with(R"("bore": {"diameter": 150, "fit": "H7"})");
    ASSERT_EQ(plan.holes.size(), 1u);
    EXPECT_EQ(plan.holes[0].id, "bore");
    EXPECT_EQ(plan.holes[0].pattern, "");
    EXPECT_EQ(plan.holes[0].kind, HoleKind::bore);
    EXPECT_TRUE(plan.holes[0].through);
    EXPECT_EQ(plan.holes[0].depth_mm, 40.0);
    ASSERT_TRUE(plan.holes[0].fit);
    EXPECT_EQ(plan.holes[0].fit->upper_um, 40.0) << "ISO 286-2: H7 over 120 to 180 mm";
}

TEST(Bore, locates_on_a_part_with_a_diametral_clearance) {
    const auto plan = plan_with(R"("bore": {"locates_on": 149.95, "clearance": "3 thou"})");
    EXPECT_NEAR(plan.holes[0].diameter_mm, 149.95 + 0.0762, 1e-9);
    EXPECT_EQ(plan.holes[0].locates_on_mm, 149.95);
}

}  // namespace
}  // namespace fitup::parts
