#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "plan/metal.hpp"
#include "plan/plates.hpp"
#include "plan/property.hpp"
#include "plan/rings.hpp"

// Random plates: holes of every kind on a jittered grid, none meeting another.
namespace fitup::plan {
namespace {

using namespace testing;
using std::numbers::pi;

/// Sums of some hundred terms of about the plate's volume, each good to 2e-16: 1e-12 leaves a factor of ten.
constexpr double rounding = 1e-12;

class Dice {
  public:
    explicit Dice(unsigned seed) : engine_(seed) {}
    double number(double from, double to) {
        return std::uniform_real_distribution<double>(from, to)(engine_);
    }
    bool flip() { return engine_() % 2 == 0; }
    unsigned pick(unsigned count) { return engine_() % count; }

  private:
    std::mt19937 engine_;
};

/// A hole within a circle of 9 mm about its place.
Hole any_hole(Dice& dice, const std::string& id, Point at, double thickness) {
    const Side side = dice.flip() ? Side::A : Side::B;
    const double diameter = dice.number(1, 8);
    Hole hole = dice.flip() ? through_hole(id, at, diameter)
                            : blind_hole(id, at, diameter, side, dice.number(0.5, thickness - 4));
    if (dice.pick(4) == 0) hole.point_angle.reset();
    if (dice.pick(3) == 0) {
        hole.recess =
            Recess{dice.flip() ? Side::A : Side::B, diameter + dice.number(0.2, 9), dice.number(0.5, 8), {}};
    } else if (dice.pick(3) == 0) {
        hole.countersink = Countersink{dice.flip() ? Side::A : Side::B, diameter + dice.number(0.2, 9),
                                       Angle::from_degrees(dice.number(60, 120))};
    }
    return hole;
}

Plan any_plate(Dice& dice) {
    Plan plan = disc(1, dice.number(12, 40));
    const int columns = 2 + static_cast<int>(dice.pick(7));
    const int rows = 1 + static_cast<int>(dice.pick(6));
    plan.body.outline = rectangle({0, 0}, 20.0 * columns, 20.0 * rows, dice.pick(3), Angle());
    for (int k = 0; k < columns * rows; ++k) {
        const Point at{20.0 * (k % columns) - 10.0 * columns + 10 + dice.number(-1, 1),
                       20.0 * (k / columns) - 10.0 * rows + 10 + dice.number(-1, 1)};
        add(plan, any_hole(dice, "h-" + std::to_string(k), at, plan.body.thickness_mm));
    }
    return plan;
}

double expected_volume_mm3(const Plan& plan) {
    double volume = plan.body.outline.area_mm2() * plan.body.thickness_mm;
    for (const Hole& hole : plan.holes) volume -= taken_by_hole_mm3(hole, plan.body.thickness_mm);
    return volume;
}

/// Only a drill point or countersink that another part of the same hole cuts askew may leave.
bool only_cones_left(const SkinResult& result) {
    return std::all_of(result.overlapping.begin(), result.overlapping.end(), [](const Cut& cut) {
        return cut.role == CutRole::point || cut.role == CutRole::countersink;
    });
}

/// @param property  takes a Dice; each case another seed.
template <typename Property>
void check(const Property& property) {
    for_random_cases([&] {
        Dice dice(*rc::gen::noShrink(rc::gen::resize(rc::kNominalSize, rc::gen::arbitrary<unsigned>())));
        property(dice);
        RC_ASSERT(!::testing::Test::HasFailure());
    });
}

TEST(SkinProperty, volume_is_the_slab_less_every_hole) {
    check([](Dice& dice) {
        const Plan plan = any_plate(dice);
        const SkinResult result = skin(plan);
        expect_closed(result.skin);
        RC_ASSERT(result.skin.pieces == 1);
        RC_ASSERT(only_cones_left(result));
        RC_CLASSIFY(result.overlapping.empty(), "nothing left the skin");
        if (!result.overlapping.empty()) return;
        RC_ASSERT(std::abs(*result.volume_mm3 / expected_volume_mm3(plan) - 1) < rounding);
    });
}

Plan mirrored(Plan plan) {
    for (Hole& hole : plan.holes) hole.at_mm.x_mm = -hole.at_mm.x_mm;
    return plan;
}

Plan turned_over(Plan plan) {
    plan = mirrored(std::move(plan));
    for (Hole& hole : plan.holes) {
        hole.from = other(hole.from);
        if (hole.recess) hole.recess->side = other(hole.recess->side);
        if (hole.countersink) hole.countersink->side = other(hole.countersink->side);
    }
    return plan;
}

Plan reordered(Plan plan) {
    std::reverse(plan.holes.begin(), plan.holes.end());
    return plan;
}

Plan turned(Plan plan, Angle angle) {
    const Box2 box = plan.body.outline.box();
    plan.body.outline =
        rectangle({0, 0}, box.most.x_mm - box.least.x_mm, box.most.y_mm - box.least.y_mm, 0, angle);
    for (Hole& hole : plan.holes) {
        const Point at = hole.at_mm;
        hole.at_mm = {at.x_mm * angle.cos() - at.y_mm * angle.sin(),
                      at.x_mm * angle.sin() + at.y_mm * angle.cos()};
    }
    return plan;
}

bool same_figures(const SkinResult& a, const SkinResult& b) {
    return std::abs(a.skin.volume_mm3 / b.skin.volume_mm3 - 1) < rounding &&
           std::abs(a.skin.area_mm2 / b.skin.area_mm2 - 1) < rounding &&
           a.skin.walls.size() == b.skin.walls.size() && a.skin.floors.size() == b.skin.floors.size() &&
           a.skin.slopes.size() == b.skin.slopes.size() && a.overlapping.size() == b.overlapping.size() &&
           a.skin.pieces == b.skin.pieces;
}

TEST(SkinProperty, mirrored_turned_or_reordered_it_is_the_same_part) {
    check([](Dice& dice) {
        const Plan plan = turned(any_plate(dice), Angle());
        const SkinResult whole = skin(plan);
        RC_ASSERT(same_figures(whole, skin(mirrored(plan))));
        RC_ASSERT(same_figures(whole, skin(turned_over(plan))));
        RC_ASSERT(same_figures(whole, skin(reordered(plan))));
        RC_ASSERT(same_figures(whole, skin(turned(plan, Angle::from_degrees(dice.number(0, 360))))));
    });
}

/// Holes and pockets anywhere: what can't be in the skin leaves, and the rest is closed whatever it is.
TEST(SkinProperty, any_heap_of_features_has_a_closed_skin) {
    check([](Dice& dice) {
        Plan plan = any_plate(dice);
        plan.body.edge_break_modelled = dice.flip();
        plan.body.edge_break_mm = 0.5;
        const double reach = 60;
        for (unsigned k = dice.pick(4); k > 0; --k) {
            const Point at{dice.number(-reach, reach), dice.number(-reach, reach)};
            const double radius = dice.number(2, 30);
            Area area{Contour(Circle{at, radius}), {}};
            if (dice.flip()) area.islands = {Contour(Circle{at, radius * dice.number(0.2, 0.9)})};
            plan.pockets.push_back(pocket("relief-" + std::to_string(k), dice.flip() ? Side::A : Side::B,
                                          dice.number(1, plan.body.thickness_mm), area));
        }
        for (unsigned k = dice.pick(3); k > 0; --k) {
            const double radius = dice.number(5, 50);
            plan.raised.push_back({"ring",
                                   dice.flip() ? Side::A : Side::B,
                                   Contour(Circle{{}, radius}),
                                   {Contour(Circle{{}, radius * dice.number(0.2, 0.9)})},
                                   dice.number(1, 5)});
        }
        const SkinResult result = skin(plan);
        if (!result.skin.touches_itself) expect_closed(result.skin);
        if (result.overlapping.empty() && result.overlapping_raised.empty()) {
            RC_ASSERT(std::abs(*result.volume_mm3 / probed_volume_mm3(plan, 20000) - 1) < 1e-2);
        }
    });
}

bool holes_are_clear(const Plan& plan) {
    const std::vector<Cut> all = cuts(plan);
    for (const Cut& a : all) {
        for (const Cut& b : all) {
            if (a.owner != b.owner && gap(a, b).distance_mm == 0.0) return false;
        }
    }
    return true;
}

/// The closed form of the whole, where there is one with cuts outside the skin, is that of the metal.
TEST(SkinProperty, volume_with_overlapping_cuts_is_the_volume_of_the_metal) {
    check([](Dice& dice) {
        Plan plan = disc(100, 40);
        for (int k = 0; k < 6; ++k) {
            Hole hole = blind_hole("h-" + std::to_string(k), {dice.number(-30, 30), dice.number(-30, 30)},
                                   dice.number(2, 14), k % 2 == 0 ? Side::A : Side::B, dice.number(3, 18));
            if (dice.flip())
                hole.recess = Recess{hole.from, hole.diameter_mm + dice.number(1, 8), dice.number(1, 3), {}};
            add(plan, hole);
        }
        const SkinResult result = skin(plan);
        expect_closed(result.skin);
        RC_CLASSIFY(!result.overlapping.empty() && result.volume_mm3, "some left, closed form all the same");
        if (!result.volume_mm3) return;
        // Holes that meet without crossing in plan (one within the other) are in the skin: then only the
        // probe knows.
        if (holes_are_clear(plan)) {
            RC_ASSERT(std::abs(*result.volume_mm3 / expected_volume_mm3(plan) - 1) < rounding);
        } else {
            RC_ASSERT(std::abs(*result.volume_mm3 / probed_volume_mm3(plan, 60000) - 1) < 2e-3);
        }
    });
}

}  // namespace
}  // namespace fitup::plan
