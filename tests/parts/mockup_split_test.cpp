// A mock-up in pieces: what covers the plate is found by points, gaps are measured between edges.
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <numbers>

#include "parts/examples.hpp"
#include "parts/mockups.hpp"

namespace fitup::parts {
namespace {

using namespace testing;
using plan::Point;

/// Without the bar.
std::vector<plan::Plan> pieces_of(const MadeMockup& made) {
    std::vector<plan::Plan> pieces;
    for (const MockupPiece& piece : made.pieces) {
        if (piece.suffix != "-mockup-bar") pieces.push_back(piece.plan);
    }
    return pieces;
}

/// Area and length of edge, with all that goes through.
struct Measure {
    double area_mm2 = 0.0;
    double edge_mm = 0.0;
};
Measure measure(const std::vector<plan::Plan>& pieces) {
    Measure sum;
    const auto add = [&sum](const plan::Contour& curve, double sign) {
        sum.area_mm2 += sign * curve.area_mm2();
        sum.edge_mm += curve.perimeter_mm();
    };
    for (const plan::Plan& piece : pieces) {
        add(piece.body.outline, 1.0);
        for (const plan::Hole& hole : piece.holes) add(plan::shaft_contour(hole), -1.0);
        for (const plan::Pocket& pocket : piece.pockets) {
            if (pocket.through) add(pocket.areas.front().outer, -1.0);
        }
    }
    return sum;
}

/// Every point of the whole lies in one piece, or in a gap between two; none lies in two or beyond it.
void expect_covered(const plan::Plan& whole, const std::vector<plan::Plan>& pieces, double gap_mm) {
    for (const Point& point : points_in(whole.body.outline.box(), 1500)) {
        if (off_edge_mm(whole, point) < 1e-6) continue;
        int in = 0;
        double nearest_mm = 1e300;
        for (const plan::Plan& piece : pieces) {
            in += is_in(piece, point) ? 1 : 0;
            nearest_mm = std::min(nearest_mm, off_edge_mm(piece, point));
        }
        if (!is_in(whole, point))
            ASSERT_EQ(in, 0) << point.x_mm << ", " << point.y_mm;
        else
            ASSERT_TRUE(in == 1 || (in == 0 && nearest_mm < gap_mm)) << point.x_mm << ", " << point.y_mm;
    }
}

/// No two pieces come nearer than the gap.
void expect_gaps(const std::vector<plan::Plan>& pieces, double gap_mm) {
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
            const double apart_mm = plan::gap(pieces[i].body.outline, pieces[j].body.outline).distance_mm;
            EXPECT_GE(apart_mm, gap_mm - 1e-9) << i << ", " << j;
        }
    }
}

void expect_fits(const std::vector<plan::Plan>& pieces, const std::array<double, 2>& bed_mm) {
    for (const plan::Plan& piece : pieces) {
        const plan::Box2 box = piece.body.outline.box();
        EXPECT_LE(box.most.x_mm - box.least.x_mm, bed_mm[0] + 1e-9) << piece.name;
        EXPECT_LE(box.most.y_mm - box.least.y_mm, bed_mm[1] + 1e-9) << piece.name;
    }
}

/// Each hole of the whole lies whole in one piece, where it was.
void expect_holes(const plan::Plan& whole, const std::vector<plan::Plan>& pieces) {
    std::size_t found = 0;
    for (const plan::Plan& piece : pieces) {
        for (const plan::Hole& hole : piece.holes) {
            const plan::Hole& wanted = hole_named(whole, hole.id);
            EXPECT_EQ(hole.at_mm, wanted.at_mm) << hole.id;
            EXPECT_EQ(hole.diameter_mm, wanted.diameter_mm) << hole.id;
            EXPECT_GT(piece.body.outline.distance_to_mm(hole.at_mm), hole.diameter_mm / 2.0 + 2.0) << hole.id;
            found += hole.kind == plan::HoleKind::bore ? 0 : 1;
        }
    }
    const auto wanted = std::count_if(whole.holes.begin(), whole.holes.end(), [](const plan::Hole& hole) {
        return hole.kind != plan::HoleKind::bore;
    });
    EXPECT_EQ(found, std::size_t(wanted));
}

void expect_good_pieces(const plan::Plan& part, plan::Mockup settings) {
    const MadeMockup split = mockup(part, settings);
    const std::array<double, 2> bed_mm = *settings.bed_mm;
    settings.bed_mm.reset();
    const plan::Plan whole = pieces_of(mockup(part, settings)).front();
    const auto pieces = pieces_of(split);
    expect_fits(pieces, bed_mm);
    for (const plan::Plan& piece : pieces) {
        expect_marks_on_metal(piece);
        expect_sound(piece);
    }
    if (says(split.findings, "lies turned")) return;
    expect_holes(whole, pieces);
    expect_covered(whole, pieces, settings.joint_gap_mm);
    expect_gaps(pieces, settings.joint_gap_mm);
    // What is gone is a strip as wide as the gap along all that is new edge; both its sides are.
    const Measure one = measure({whole}), all = measure(pieces);
    const double strip_mm2 = settings.joint_gap_mm * (all.edge_mm - one.edge_mm) / 2.0;
    EXPECT_NEAR(one.area_mm2 - all.area_mm2, strip_mm2, 0.03 * strip_mm2 + 1e-6);
}

TEST(MockupPieces, of_the_winchs_plate_are_four_and_fit_the_bed) {
    const plan::Plan plate = example_plan("winch-adapter.json");
    const plan::Mockup settings{.shrinkage = 0.003, .bed_mm = {{250, 250}}};
    const MadeMockup made = mockup(plate, settings);
    EXPECT_EQ(pieces_of(made).size(), 4u);
    EXPECT_EQ(made.pieces[0].suffix, "-mockup-1");
    EXPECT_EQ(made.pieces[4].suffix, "-mockup-bar");
    EXPECT_FALSE(says(made.findings, "no room"));
    EXPECT_FALSE(says(made.findings, "turned"));
    expect_good_pieces(plate, settings);
}

TEST(MockupPieces, of_a_narrow_bed_and_a_wide_gap) {
    const plan::Plan plate = example_plan("winch-adapter.json");
    for (const double gap_mm : {0.05, 0.4}) {
        SCOPED_TRACE(gap_mm);
        expect_good_pieces(plate, {.joint_gap_mm = gap_mm, .bed_mm = {{180, 240}}});
        expect_good_pieces(plate, {.joint_gap_mm = gap_mm, .bed_mm = {{240, 130}}});
    }
}

/// The length of arcs that bulge out of the piece at its joints, and of those that bulge in: keys and seats.
TEST(MockupPieces, hold_together_by_keys) {
    const plan::Plan plate = plan_with(R"("bore": {"diameter": 30})",
                                       {.outline = R"({"rectangle": {"width": 300, "height": 100}})"});
    const auto pieces = pieces_of(mockup(plate, {.bed_mm = {{200, 200}}}));
    ASSERT_EQ(pieces.size(), 2u);
    const plan::Box2 low = pieces[0].body.outline.box(), high = pieces[1].body.outline.box();
    // The key stands out by 1.6 radii of 6 mm, less half the gap; the neck is narrower than the head.
    EXPECT_NEAR(low.most.x_mm - high.least.x_mm, 9.6 - 0.075 - 0.075, 1e-9);
    // Pulled straight apart by a millimetre, the pieces run into each other.
    const plan::Contour pulled = plan::moved(pieces[1].body.outline, {}, {1.0, 0.0});
    EXPECT_EQ(plan::relation(pieces[0].body.outline, pulled), plan::Relation::crossing);
    const plan::Contour shifted = plan::moved(pieces[1].body.outline, {}, {0.0, 1.0});
    EXPECT_EQ(plan::relation(pieces[0].body.outline, shifted), plan::Relation::crossing);
}

/// The rounds of a piece's keys and seats.
std::vector<plan::Circle> rounds_of(const plan::Plan& piece) {
    std::vector<plan::Circle> rounds;
    for (const plan::Stroke& stroke : plan::strokes_of(piece.body.outline)) {
        if (!stroke.is_line()) rounds.push_back({stroke.centre, stroke.radius_mm});
    }
    return rounds;
}

/// Holes along both cuts leave room for keys only where the cuts meet.
TEST(MockupPieces, keys_of_joints_that_meet_leave_metal_between_them) {
    std::string points;
    for (int along = 30; along <= 90; along += 20) {
        for (const int x : {-along, along}) {
            for (const int y : {-12, 12})
                points += "[" + std::to_string(x) + ", " + std::to_string(y) + "], [" + std::to_string(y) +
                          ", " + std::to_string(x) + "], ";
        }
    }
    points.resize(points.size() - 2);
    const plan::Plan plate =
        plan_with(pattern("\"points\": [" + points + "]", R"({"kind": "drilled", "diameter": 16})"),
                  {.outline = R"({"rectangle": {"width": 210, "height": 210}})"});
    const auto pieces = pieces_of(mockup(plate, {.bed_mm = {{120, 120}}}));
    ASSERT_EQ(pieces.size(), 4u);
    std::size_t keys = 0;
    for (const plan::Plan& piece : pieces) {
        EXPECT_FALSE(plan::touches_itself(piece.body.outline)) << piece.name;
        const auto rounds = rounds_of(piece);
        keys += rounds.size();
        for (std::size_t i = 0; i < rounds.size(); ++i) {
            for (std::size_t j = 0; j < i; ++j)
                EXPECT_GT(plan::distance_mm(rounds[i].centre, rounds[j].centre) - rounds[i].radius_mm -
                              rounds[j].radius_mm,
                          2.0)
                    << piece.name;
        }
    }
    EXPECT_GE(keys, 4u);
}

TEST(MockupPieces, within_the_bore_there_are_none) {
    const plan::Plan plate = plan_with(R"("bore": {"diameter": 320})");
    const MadeMockup made = mockup(plate, {.hole_allowance_mm = 0.0, .bed_mm = {{110, 110}}});
    const auto pieces = pieces_of(made);
    EXPECT_GT(pieces.size(), 8u);
    for (const plan::Plan& piece : pieces) {
        for (const Point& point : points_in({{-160, -160}, {160, 160}}, 400)) {
            ASSERT_FALSE(plan::distance_mm(point, {}) < 159.9 && is_in(piece, point)) << piece.name;
        }
    }
    // The ring less its joints: some 16 of 55 to 80 mm, a gap of 0.15 mm wide.
    const double ring_mm2 = std::numbers::pi / 4.0 * (430.0 * 430.0 - 320.0 * 320.0);
    EXPECT_NEAR(measure(pieces).area_mm2, ring_mm2, 0.01 * ring_mm2);
}

TEST(MockupPieces, a_long_part_lies_askew_where_it_fits_so) {
    const plan::Plan plate =
        plan_with(pattern(R"("points": [[-130, 0], [130, 0]])", R"({"kind": "drilled", "diameter": 10})"),
                  {.outline = R"({"rectangle": {"width": 290, "height": 30}})"});
    const MadeMockup made = mockup(plate, {.bed_mm = {{250, 250}}});
    const auto pieces = pieces_of(made);
    ASSERT_EQ(pieces.size(), 1u);
    EXPECT_TRUE(says(made.findings, "lies turned by"));
    expect_fits(pieces, {250, 250});
    EXPECT_NEAR(plan::distance_mm(pieces[0].holes[0].at_mm, pieces[0].holes[1].at_mm), 260.0, 1e-9);
    expect_marks_on_metal(pieces[0]);
}

TEST(MockupPieces, a_hole_in_the_way_of_every_cut_is_named) {
    const plan::Plan plate =
        plan_with(pattern(R"("points": [[0, 0]])", R"({"kind": "drilled", "diameter": 180})"),
                  {.outline = R"({"rectangle": {"width": 210, "height": 210}})"});
    const MadeMockup made = mockup(plate, {.bed_mm = {{100, 100}}});
    EXPECT_EQ(pieces_of(made).size(), 1u);
    EXPECT_TRUE(says(made.findings, "does not fit the bed of 100 x 100 mm"));
    EXPECT_TRUE(says(made.findings, "p-1 would be cut through"));
    EXPECT_TRUE(std::any_of(made.findings.begin(), made.findings.end(), [](const plan::Finding& finding) {
        return finding.severity == plan::Severity::warn;
    }));
}

TEST(MockupPieces, random_plates_come_out_whole) {
    EXPECT_TRUE(rc::check([] {
        RandomPlate random = random_plate(150, 600);
        random.settings.bed_mm = {{double(*rc::gen::inRange(120, 300)), double(*rc::gen::inRange(120, 300))}};
        const MadeMockup made = mockup(random.plan, random.settings);
        if (says(made.findings, "does not fit")) RC_DISCARD("no cut");
        expect_good_pieces(random.plan, random.settings);
        RC_ASSERT(!::testing::Test::HasFailure());
    }));
}

}  // namespace
}  // namespace fitup::parts
