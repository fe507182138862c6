// The mock-up's plans: sizes and places by hand, marks by points on their edges, random plates.
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <cmath>
#include <numbers>

#include "parts/examples.hpp"
#include "parts/mockups.hpp"

namespace fitup::parts {
namespace {

using namespace testing;

plan::Plan mockup_of(const plan::Plan& plan, const plan::Mockup& settings = {}) {
    return piece_named(mockup(plan, settings), "-mockup");
}

TEST(MockupPlan, places_and_sizes_are_made_up_for_shrinkage_and_allowance) {
    const plan::Plan plate =
        plan_with(pattern(R"("points": [[100, 50], [-120, 30]])", R"({"kind": "drilled", "diameter": 10})"));
    const plan::Plan made = mockup_of(plate, {.hole_allowance_mm = 0.3, .shrinkage = 0.003});
    // By hand: 100 / 0.997 = 100.300902708.., 50 / 0.997 = 50.150451354.., 10.3 / 0.997 = 10.330992979..
    const plan::Hole& hole = hole_named(made, "p-1");
    EXPECT_NEAR(hole.at_mm.x_mm, 100.300902708, 1e-9);
    EXPECT_NEAR(hole.at_mm.y_mm, 50.150451354, 1e-9);
    EXPECT_NEAR(hole.diameter_mm, 10.330992979, 1e-9);
    EXPECT_TRUE(hole.through);
    EXPECT_NEAR(2.0 * made.body.outline.circle()->radius_mm, 431.293881645, 1e-9);
    EXPECT_EQ(made.body.thickness_mm, 5.0) << "the thickness is not scaled";
    // What is left after shrinking is the part again, with the allowance on the diameter.
    EXPECT_NEAR(hole.at_mm.x_mm * 0.997, 100, 1e-12);
    EXPECT_NEAR(hole.diameter_mm * 0.997, 10.3, 1e-12);
}

/// The diameter that the hole of that kind has in a mock-up without allowance.
double shown_mm(const std::string& hole) {
    const plan::Plan plate = plan_with(pattern(R"("points": [[100, 0]])", hole));
    return mockup_of(plate, {.hole_allowance_mm = 0.0}).holes.front().diameter_mm;
}

TEST(MockupPlan, a_hole_is_as_wide_as_what_goes_through_it) {
    EXPECT_EQ(shown_mm(R"({"kind": "drilled", "diameter": 9.2})"), 9.2);
    EXPECT_EQ(shown_mm(R"({"kind": "clearance", "for": "M10", "fit": "normal"})"), 11.0);
    EXPECT_EQ(shown_mm(R"({"kind": "tapped", "thread": "M10", "depth": "through"})"), 10.0) << "no tap drill";
    EXPECT_EQ(shown_mm(R"({"kind": "tapped", "thread": "M10", "depth": "through", "model_as": "thread"})"),
              10.0);
    EXPECT_EQ(shown_mm(R"({"kind": "dowel", "diameter": 12, "fit": "H7"})"), 12.0);
}

TEST(MockupPlan, a_blind_hole_is_shown_by_a_pilot) {
    EXPECT_EQ(shown_mm(R"({"kind": "tapped", "thread": "M10", "depth": 22})"), 3.0);
    EXPECT_EQ(shown_mm(R"({"kind": "drilled", "diameter": 2.1, "depth": 22})"), 2.1) << "no wider than it is";
    const plan::Plan plate = plan_with(pattern(
        R"("points": [[100, 0]])", R"({"kind": "tapped", "thread": "M10", "depth": 22, "from": "A"})"));
    const plan::Hole hole = mockup_of(plate, {.hole_allowance_mm = 0.2, .pilot_mm = 4.0}).holes.front();
    EXPECT_NEAR(hole.diameter_mm, 4.2, 1e-12);
    EXPECT_TRUE(hole.through);
}

TEST(MockupPlan, a_registers_recess_is_an_opening_and_takes_the_bore_along) {
    const plan::Plan plate = plan_with(
        R"("bore": {"diameter": 100}, "registers": [{"side": "B", "kind": "recess", "diameter": 170, "depth": 6}])");
    const plan::Plan made = mockup_of(plate, {.hole_allowance_mm = 0.4});
    EXPECT_TRUE(made.holes.empty());
    const auto opening = std::find_if(made.pockets.begin(), made.pockets.end(),
                                      [](const plan::Pocket& pocket) { return pocket.through; });
    ASSERT_NE(opening, made.pockets.end());
    EXPECT_NEAR(opening->areas.front().outer.circle()->radius_mm, 85.2, 1e-12);
}

TEST(MockupPlan, an_opening_that_would_take_holes_away_is_marked) {
    const std::string holes =
        pattern(R"("points": [[80, 0], [-80, 0]])", R"({"kind": "drilled", "diameter": 6})");
    const plan::Plan plate = plan_with(
        R"("bore": {"diameter": 100}, "registers": [{"side": "B", "kind": "recess", "diameter": 170, "depth": 6}], )" +
        holes);
    const MadeMockup made = mockup(plate, {});
    const plan::Plan& piece = piece_named(made, "-mockup");
    EXPECT_EQ(piece.holes.size(), 3u);
    EXPECT_TRUE(std::none_of(piece.pockets.begin(), piece.pockets.end(),
                             [](const plan::Pocket& pocket) { return pocket.through; }));
    EXPECT_TRUE(says(made.findings, "by its outline only, since p-1 lies in it"));
}

TEST(MockupPlan, a_spigot_becomes_ledges_that_enter) {
    const plan::Plan plate = plan_with(
        R"("bore": {"diameter": 100}, "registers": [{"side": "A", "kind": "spigot", "diameter": 361.9, "bore": 330, "height": 5}])");
    const plan::Plan made = mockup_of(plate, {.hole_allowance_mm = 0.3});
    ASSERT_EQ(made.raised.size(), 1u) << "nothing in the way: a whole ring";
    const plan::Raised& ledge = made.raised.front();
    EXPECT_EQ(ledge.side, plan::Side::A);
    EXPECT_EQ(ledge.height_mm, 3.0);
    EXPECT_NEAR(2.0 * ledge.outer.circle()->radius_mm, 361.6, 1e-12);
    ASSERT_EQ(ledge.inner.size(), 1u);
    EXPECT_NEAR(ledge.inner.front().circle()->radius_mm, 174.8, 1e-12) << "6 mm wide";
}

TEST(MockupPlan, ledges_go_round_holes) {
    const std::string spigot =
        R"("registers": [{"side": "A", "kind": "spigot", "diameter": 361.9, "bore": 330, "height": 2}], )";
    const plan::Plan plate =
        plan_with(spigot + pattern(R"("circle": {"diameter": 361, "count": 5, "start_angle": 90})",
                                   R"({"kind": "drilled", "diameter": 12})"));
    const plan::Plan made = mockup_of(plate);
    EXPECT_EQ(made.raised.size(), 5u);
    double length_mm = 0.0;
    for (const plan::Raised& ledge : made.raised) {
        EXPECT_EQ(ledge.height_mm, 2.0);
        for (const plan::Point& point : points_of(ledge.outer)) {
            EXPECT_LE(plan::distance_mm(point, {}), 361.6 / 2.0 + 1e-9);
            for (const plan::Hole& hole : made.holes)
                EXPECT_GT(plan::distance_mm(point, hole.at_mm), hole.diameter_mm / 2.0);
        }
        length_mm += ledge.outer.area_mm2() / 6.0;
    }
    // Five holes of 12.3 with half a millimetre on either side, at the mean radius of the ledges.
    EXPECT_NEAR(length_mm, 2.0 * std::numbers::pi * 177.8 - 5 * 17.0, 15.0);
    expect_sound(made);
}

TEST(MockupPlan, of_two_spigots_one_is_marked) {
    const plan::Plan plate = plan_with(
        R"("registers": [{"side": "A", "kind": "spigot", "diameter": 300, "bore": 280, "height": 5},
                         {"side": "B", "kind": "spigot", "diameter": 200, "bore": 180, "height": 5}])");
    const MadeMockup made = mockup(plate, {});
    for (const plan::Raised& ledge : piece_named(made, "-mockup").raised)
        EXPECT_EQ(ledge.side, plan::Side::A);
    EXPECT_TRUE(says(made.findings, "neither would lie on the bed"));
}

TEST(MockupPlan, a_recess_is_a_dashed_circle_of_its_size) {
    const plan::Plan plate = plan_with(pattern(
        R"("points": [[100, 0]])",
        R"({"kind": "clearance", "for": "M10", "from": "B", "recess": {"for": "nut", "side": "B"}})"));
    const double radius_mm = plate.holes.front().recess->diameter_mm / 2.0;
    int dashes = 0;
    for (const plan::Area& area : marks_of(mockup_of(plate))) {
        const auto points = points_of(area.outer);
        const bool is_dash = std::all_of(points.begin(), points.end(), [&](const plan::Point& point) {
            return std::abs(plan::distance_mm(point, {100, 0}) - radius_mm) < 0.6;
        });
        dashes += is_dash ? 1 : 0;
    }
    EXPECT_GE(dashes, 8);
}

TEST(MockupPlan, words_lie_on_the_metal) {
    for (const char* example :
         {"winch-adapter.json", "brace-plate.json", "selector-crank.json", "deck-arm.json"}) {
        SCOPED_TRACE(example);
        const MadeMockup made = mockup(example_plan(example), {.shrinkage = 0.004});
        ASSERT_EQ(made.pieces.size(), 2u);
        for (const MockupPiece& piece : made.pieces) {
            EXPECT_GT(marks_of(piece.plan).size(), 20u);
            expect_marks_on_metal(piece.plan);
            expect_sound(piece.plan);
        }
    }
}

TEST(MockupPlan, blind_holes_from_both_faces_in_one_place_have_one_pilot_and_both_names) {
    const std::string one = R"({"name": "near", "seen_from": "B", "points": [[100, 0]],
        "hole": {"kind": "tapped", "thread": "M10", "depth": 12, "from": "B"}})";
    const std::string two = R"({"name": "far", "seen_from": "B", "points": [[100, 0]],
        "hole": {"kind": "tapped", "thread": "M8", "depth": 12, "from": "A"}})";
    const plan::Plan both = mockup_of(plan_with(R"("patterns": [)" + one + ", " + two + "]"));
    ASSERT_EQ(both.holes.size(), 1u);
    EXPECT_NEAR(both.holes.front().diameter_mm, 3.3, 1e-12);
    expect_sound(both);
    expect_marks_on_metal(both);
    const plan::Plan alone = mockup_of(plan_with(R"("patterns": [)" + one + "]"));
    EXPECT_GE(marks_of(both).size(), marks_of(alone).size() + 5) << "FAR-1 as well";
}

TEST(MockupPlan, holes_that_the_allowance_joins_are_one_opening) {
    // A wall of 0.4 mm between two holes; with 0.5 mm on each diameter they meet.
    plan::Plan plate = plan_with(
        pattern(R"("points": [[-5.2, 40], [5.2, 40], [0, -40]])", R"({"kind": "drilled", "diameter": 10})"));
    const plan::Plan made = mockup_of(plate, {.hole_allowance_mm = 0.5});
    expect_sound(made);
    ASSERT_EQ(made.holes.size(), 1u);
    EXPECT_EQ(made.holes.front().id, "p-3");
    const auto opening = std::find_if(made.pockets.begin(), made.pockets.end(),
                                      [](const plan::Pocket& pocket) { return pocket.through; });
    ASSERT_NE(opening, made.pockets.end());
    // Two circles of 5.25 whose middles are 10.4 apart, by hand: 2 pi r2 - (2 r2 acos(d/2r) - d/2 sqrt(4 r2 -
    // d2)).
    const double r = 5.25, d = 10.4, pi = std::numbers::pi;
    const double lens = 2 * r * r * std::acos(d / (2 * r)) - d / 2 * std::sqrt(4 * r * r - d * d);
    EXPECT_NEAR(opening->areas.front().outer.area_mm2(), 2 * pi * r * r - lens, 1e-9);
}

TEST(MockupPlan, what_finds_no_room_is_said) {
    const plan::Plan plate =
        plan_with(pattern(R"("points": [[-4, 0], [4, 0]])", R"({"kind": "drilled", "diameter": 6})"),
                  {.outline = R"({"rectangle": {"width": 20, "height": 10}})"});
    const MadeMockup made = mockup(plate, {});
    EXPECT_TRUE(says(made.findings, "p-1, p-2 bear no name"));
    EXPECT_TRUE(says(made.findings, "There is no room for \"FIT CHECK ONLY\""));
    EXPECT_TRUE(marks_of(piece_named(made, "-mockup")).empty());
}

TEST(MockupPlan, the_bar_is_neither_scaled_nor_widened) {
    const plan::Plan plate = plan_with(R"("bore": {"diameter": 100})");
    const plan::Plan bar =
        piece_named(mockup(plate, {.hole_allowance_mm = 0.5, .shrinkage = 0.02}), "-mockup-bar");
    ASSERT_EQ(bar.holes.size(), 2u);
    EXPECT_EQ(plan::distance_mm(bar.holes[0].at_mm, bar.holes[1].at_mm), 140.0);
    EXPECT_EQ(bar.holes[0].diameter_mm, 5.0);
    const plan::Box2 box = bar.body.outline.box();
    EXPECT_EQ(box.most.x_mm - box.least.x_mm, 150.0);
    expect_marks_on_metal(bar);
    expect_sound(bar);
}

TEST(MockupPlan, a_small_bed_has_a_shorter_bar) {
    const plan::Plan plate =
        plan_with(R"("bore": {"diameter": 60})", {.outline = R"({"round": {"diameter": 90}})"});
    const plan::Plan bar = piece_named(mockup(plate, {.bed_mm = {{105, 100}}}), "-mockup-bar");
    EXPECT_EQ(plan::distance_mm(bar.holes[0].at_mm, bar.holes[1].at_mm), 90.0);
    expect_marks_on_metal(bar);
    expect_sound(bar);
}

TEST(MockupPlan, a_rod_has_none) {
    EXPECT_TRUE(mockup(example_plan("selector-rod.json"), {}).pieces.empty());
}

TEST(MockupPlan, an_arm_is_shown_as_seen_from_above) {
    const plan::Plan arm = example_plan("deck-arm.json");
    ASSERT_TRUE(arm.body.joggle);
    const plan::Plan made = mockup_of(arm, {.hole_allowance_mm = 0.0});
    EXPECT_FALSE(made.body.joggle);
    EXPECT_NEAR(plan::distance_mm(made.holes[0].at_mm, made.holes[1].at_mm), arm.arm->length_mm, 1e-12);
}

TEST(MockupPlan, random_plates_have_their_words_on_the_metal) {
    EXPECT_TRUE(rc::check([] {
        const RandomPlate random = random_plate(60, 500);
        const MadeMockup made = mockup(random.plan, random.settings);
        RC_ASSERT(made.pieces.size() == 2u);
        expect_marks_on_metal(made.pieces.front().plan);
        expect_sound(made.pieces.front().plan);
        RC_ASSERT(!::testing::Test::HasFailure());
        RC_ASSERT(made.pieces.front().plan.holes.size() == random.plan.holes.size());
    }));
}

}  // namespace
}  // namespace fitup::parts
