#pragma once

#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "parts/mockup.hpp"
#include "parts/plates.hpp"
#include "plan/cuts.hpp"
#include "plan/skin.hpp"
#include "plan/stroke.hpp"
#include "plan/vector.hpp"

/// What a mock-up is held to, whatever part it is of.
namespace fitup::parts::testing {

inline const plan::Plan& piece_named(const MadeMockup& made, const std::string& suffix) {
    static const plan::Plan none;
    for (const MockupPiece& piece : made.pieces) {
        if (piece.suffix == suffix) return piece.plan;
    }
    ADD_FAILURE() << "no piece " << suffix;
    return none;
}

/// Points along a curve, every 0.2 mm or nearer.
inline std::vector<plan::Point> points_of(const plan::Contour& curve) {
    std::vector<plan::Point> points;
    for (const plan::Stroke& stroke : plan::strokes_of(curve)) {
        const int count = std::max(2, int(plan::length_mm(stroke) / 0.2));
        for (int i = 0; i < count; ++i) points.push_back(plan::point_at(stroke, double(i) / count));
    }
    return points;
}

inline bool says(const plan::Findings& findings, const std::string& words) {
    return std::any_of(findings.begin(), findings.end(), [&](const plan::Finding& finding) {
        return finding.message.find(words) != std::string::npos;
    });
}

/// The sunk areas of all marks of a piece.
inline std::vector<plan::Area> marks_of(const plan::Plan& piece) {
    std::vector<plan::Area> marks;
    for (const plan::Pocket& pocket : piece.pockets) {
        if (pocket.kind == plan::PocketKind::mark)
            marks.insert(marks.end(), pocket.areas.begin(), pocket.areas.end());
    }
    return marks;
}

/// Marks lie on the metal: no point of theirs off the outline, in a hole or an opening, or in another mark.
inline void expect_marks_on_metal(const plan::Plan& piece) {
    const std::vector<plan::Area> marks = marks_of(piece);
    for (std::size_t i = 0; i < marks.size(); ++i) {
        for (const plan::Point& point : points_of(marks[i].outer)) {
            ASSERT_TRUE(piece.body.outline.contains(point)) << point.x_mm << ", " << point.y_mm;
            for (const plan::Hole& hole : piece.holes)
                ASSERT_FALSE(plan::shaft_contour(hole).contains(point)) << hole.id;
            for (const plan::Pocket& pocket : piece.pockets) {
                ASSERT_FALSE(pocket.through && pocket.areas.front().outer.contains(point)) << pocket.id;
            }
        }
        for (std::size_t j = 0; j < i; ++j) {
            if (plan::distance_mm(marks[i].outer.box(), marks[j].outer.box()) > 0.0) continue;
            ASSERT_EQ(plan::relation(marks[i].outer, marks[j].outer), plan::Relation::apart);
        }
    }
}

/// Whether a point is in a piece's metal, in plan view.
inline bool is_in(const plan::Plan& piece, plan::Point point) {
    if (!piece.body.outline.contains(point)) return false;
    for (const plan::Hole& hole : piece.holes) {
        if (plan::shaft_contour(hole).contains(point)) return false;
    }
    return std::none_of(piece.pockets.begin(), piece.pockets.end(), [point](const plan::Pocket& pocket) {
        return pocket.through && pocket.areas.front().outer.contains(point);
    });
}

/// From the nearest edge of it.
inline double off_edge_mm(const plan::Plan& piece, plan::Point point) {
    double least_mm = piece.body.outline.distance_to_mm(point);
    for (const plan::Hole& hole : piece.holes)
        least_mm = std::min(least_mm, plan::shaft_contour(hole).distance_to_mm(point));
    for (const plan::Pocket& pocket : piece.pockets) {
        if (pocket.through) least_mm = std::min(least_mm, pocket.areas.front().outer.distance_to_mm(point));
    }
    return least_mm;
}

/// A fixed sequence of points that fills a box evenly (additive recurrence on the plastic number).
inline std::vector<plan::Point> points_in(const plan::Box2& box, int count) {
    std::vector<plan::Point> points;
    for (int i = 1; i <= count; ++i) {
        const double x = std::fmod(0.7548776662466927 * i, 1.0), y = std::fmod(0.5698402909980532 * i, 1.0);
        points.push_back({box.least.x_mm + x * (box.most.x_mm - box.least.x_mm),
                          box.least.y_mm + y * (box.most.y_mm - box.least.y_mm)});
    }
    return points;
}

/// One sound body whose whole boundary is known in closed form.
inline void expect_sound(const plan::Plan& piece) {
    const plan::SkinResult skin = plan::skin(piece);
    EXPECT_EQ(skin.skin.pieces, 1) << piece.name;
    EXPECT_FALSE(skin.skin.touches_itself) << piece.name;
    EXPECT_TRUE(skin.overlapping.empty()) << piece.name << ": " << skin.overlapping.front().id;
    EXPECT_TRUE(skin.overlapping_raised.empty()) << piece.name;
}

/// Some holes of one size on a circle, on a round or rectangular plate.
struct RandomPlate {
    plan::Plan plan;
    plan::Mockup settings;
};

inline RandomPlate random_plate(int least_mm, int most_mm) {
    const auto between = [](int least, int most) { return *rc::gen::inRange(least, most + 1); };
    RandomPlate made;
    plan::Plan& plan = made.plan;
    plan.name = "random";
    const double wide_mm = between(least_mm, most_mm), high_mm = between(least_mm, most_mm);
    plan.body.outline = between(0, 1) == 1 ? plan::Contour(plan::Circle{{}, wide_mm / 2.0})
                                           : plan::rectangle({}, wide_mm, high_mm, between(0, 20), {});
    plan.body.thickness_mm = 20.0;
    const double across_mm = std::min(plan.body.outline.circle() != nullptr ? wide_mm : high_mm, wide_mm);
    const int count = between(1, 16);
    const double ring_mm = across_mm * between(25, 42) / 100.0;
    const double spaced_mm = 2.0 * std::numbers::pi * ring_mm / count;
    for (int i = 0; i < count; ++i) {
        const double turn = 2.0 * std::numbers::pi * i / count;
        plan::Hole hole;
        hole.id = "ring-" + std::to_string(i + 1);
        hole.at_mm = plan::Point{std::cos(turn), std::sin(turn)} * ring_mm;
        hole.diameter_mm = std::min({0.6 * spaced_mm, 0.08 * across_mm, 14.0});
        hole.through = between(0, 2) > 0;
        hole.depth_mm = hole.through ? 20.0 : 10.0;
        plan.holes.push_back(hole);
    }
    made.settings.shrinkage = between(0, 20) / 1000.0;
    return made;
}

}  // namespace fitup::parts::testing
