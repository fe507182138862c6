// The web between two holes, worked out a second way: the surfaces of both, drill cones included, are sampled
// densely and the nearest two points are followed down.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "rules/plates.hpp"

namespace fitup::rules {
namespace {

using namespace plates;
using plan::Side;

constexpr double pi = std::numbers::pi;
constexpr double thickness_mm = 40.0;

double point_height_mm(const plan::Hole& hole) {
    return hole.point_angle ? hole.diameter_mm / 2.0 / std::tan(hole.point_angle->radians() / 2.0) : 0.0;
}

/// A point of the hole's surface. `along`: 0 at its face, 1 at the end of the full diameter, 2 at the tip.
plan::Point3 surface_point(const plan::Hole& hole, double along, double around_rad) {
    const double wide = std::clamp(2.0 - along, 0.0, 1.0);
    const double radius_mm = hole.diameter_mm / 2.0 * wide;
    const double depth_mm =
        hole.depth_mm * std::clamp(along, 0.0, 1.0) + point_height_mm(hole) * (1.0 - wide);
    const double z_mm = hole.from == Side::A ? depth_mm : thickness_mm - depth_mm;
    return {hole.at_mm.x_mm + radius_mm * std::cos(around_rad),
            hole.at_mm.y_mm + radius_mm * std::sin(around_rad), z_mm};
}

double distance_mm(const plan::Point3& p, const plan::Point3& q) {
    const double x = p[0] - q[0];
    const double y = p[1] - q[1];
    const double z = p[2] - q[2];
    return std::sqrt(x * x + y * y + z * z);
}

/// A place on a hole's surface.
struct Place {
    double along = 1.0;
    double around_rad = 0.0;
    plan::Point3 at_mm{};
};

Place place_on(const plan::Hole& hole, double along, double around_rad) {
    return {along, around_rad, surface_point(hole, along, around_rad)};
}

/// A grid about a place: so far, in so many steps, to each side.
struct Grid {
    double along = 1.0;
    int along_steps = 1;
    double around_rad = pi;
    int around_steps = 1;
};

std::vector<Place> places_about(const plan::Hole& hole, const Place& middle, const Grid& grid) {
    std::vector<Place> places{middle};
    for (int i = -grid.along_steps; i <= grid.along_steps; ++i) {
        const double along = std::clamp(middle.along + grid.along * i / grid.along_steps, 0.0, 2.0);
        for (int j = -grid.around_steps; j <= grid.around_steps; ++j)
            places.push_back(
                place_on(hole, along, middle.around_rad + grid.around_rad * j / grid.around_steps));
    }
    return places;
}

struct Web {
    Place first;
    Place second;
    double length_mm() const { return distance_mm(first.at_mm, second.at_mm); }
};

/// The nearest two points of the grids about both ends.
Web nearest_on(const plan::Hole& a, const plan::Hole& b, const Web& web, const Grid& grid) {
    Web best = web;
    double least_mm = best.length_mm();
    const auto others = places_about(b, web.second, grid);
    for (const Place& place : places_about(a, web.first, grid)) {
        for (const Place& other : others) {
            const double here_mm = distance_mm(place.at_mm, other.at_mm);
            if (here_mm >= least_mm) continue;
            least_mm = here_mm;
            best = {place, other};
        }
    }
    return best;
}

/// Both holes are convex, so there is one least distance: a coarse grid over all of both, then grids about
/// the best pair of every width along with every width around (at a drill's tip the one is fine while the
/// other is still wide), until none of them finds a nearer pair.
double sampled_web_mm(const plan::Hole& a, const plan::Hole& b) {
    constexpr double finest = 1e-9;
    Web web = nearest_on(a, b, {place_on(a, 1.0, 0.0), place_on(b, 1.0, 0.0)}, {1.0, 12, pi, 16});
    double before_mm = 0.0;
    do {
        before_mm = web.length_mm();
        for (double around = pi; around > finest; around /= 3.0) {
            // From the tip every direction is asked, each 20 degrees.
            const int around_steps = around == pi ? 9 : 2;
            for (double along = 0.3; along > finest; along /= 2.0)
                web = nearest_on(a, b, web, {along, 1, around, around_steps});
        }
    } while (web.length_mm() < before_mm - finest);
    return web.length_mm();
}

/// A plate whose rules speak of every wall and floor between holes, however thick.
plan::Plan outspoken(const plan::Hole& a, const plan::Hole& b) {
    plan::Plan plan = with(disc(430.0, thickness_mm), {a, b});
    for (const char* rule : {"web", "hole-floor"}) plan.rule_overrides.push_back({rule, 60.0, {}, 0});
    return plan;
}

plan::Hole random_hole(std::mt19937& random, const std::string& id, Side from) {
    std::uniform_real_distribution<double> diameter(3.0, 14.0), depth(5.0, 30.0), place(-11.0, 11.0);
    std::uniform_real_distribution<double> angle(80.0, 140.0);
    plan::Hole hole =
        blind(id, {100.0 + place(random), place(random)}, diameter(random), from, depth(random));
    hole.point_angle = Angle::from_degrees(angle(random));
    if (random() % 4 == 0) hole.point_angle.reset();
    return hole;
}

const plan::Finding* between(const plan::Findings& findings) {
    for (const char* rule : {"holes-meeting", "web", "hole-floor"}) {
        if (const auto* finding = find(findings, rule, "gearbox-1, housing-1")) return finding;
    }
    return nullptr;
}

// Sampled points lie on the surfaces, so they are never nearer than the true distance but for rounding; the
// last grid is a thousandth of a micrometre wide.
TEST(WebSampling, random_holes_from_opposite_sides_agree_with_their_sampled_surfaces) {
    constexpr double rounding_mm = 1e-9;
    constexpr double sampling_mm = 1e-6;
    std::mt19937 random(20260208);
    int walls = 0;
    int meetings = 0;
    int floors = 0;
    for (int i = 0; i < 120; ++i) {
        const plan::Hole a = random_hole(random, "gearbox-1", Side::B);
        plan::Hole b = random_hole(random, "housing-1", i % 4 == 1 ? Side::B : Side::A);
        if (i % 6 == 0) b.at_mm = a.at_mm;
        const auto findings = judge(outspoken(a, b));
        if (find(findings, "doubled-hole") != nullptr) continue;
        const plan::Finding* finding = between(findings);
        ASSERT_NE(finding, nullptr) << "pair " << i;
        const double sampled_mm = sampled_web_mm(a, b);
        const bool meet = finding->rule == "holes-meeting";
        const double said_mm = meet ? 0.0 : *finding->value;
        (meet ? meetings : finding->rule == "web" ? walls : floors) += 1;
        EXPECT_GE(sampled_mm, said_mm - rounding_mm) << "pair " << i;
        if (!meet) {
            EXPECT_LE(sampled_mm, said_mm + sampling_mm) << "pair " << i << " " << finding->message;
        }
    }
    EXPECT_GT(walls, 50);
    EXPECT_GT(meetings, 10);
    EXPECT_GT(floors, 6);
}

TEST(WebSampling, a_drill_cone_beside_a_cone_from_the_other_side_is_seen_in_space) {
    // Full diameters overlap in plan but end 6 mm apart; the cones lean past each other.
    const plan::Hole a = blind("gearbox-1", {100.0, 0.0}, 10.0, Side::B, 17.0);
    const plan::Hole b = blind("housing-1", {106.0, 0.0}, 10.0, Side::A, 17.0);
    const auto findings = judge(outspoken(a, b));
    ASSERT_NE(between(findings), nullptr);
    EXPECT_NEAR(*between(findings)->value, sampled_web_mm(a, b), 1e-6);
    // With points the metal is thinner than between flat ends, 6 mm.
    EXPECT_LT(*between(findings)->value, 6.0);
    plan::Hole flat_a = a;
    plan::Hole flat_b = b;
    flat_a.point_angle.reset();
    flat_b.point_angle.reset();
    EXPECT_NEAR(*between(judge(outspoken(flat_a, flat_b)))->value, 6.0, 1e-9);
}

}  // namespace
}  // namespace fitup::rules
