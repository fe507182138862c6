// Clocking: the least web over the turn against plates planned anew and judged by the rules, the best turn
// against closed forms and fine ladders.
#include "calculations/clocking.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <fstream>
#include <limits>
#include <numbers>
#include <sstream>

#include "base/text.hpp"
#include "calculations/clocking_reading.hpp"
#include "plan/vector.hpp"
#include "rules/rules.hpp"

namespace fitup::calculations {

namespace {

constexpr double rad = std::numbers::pi / 180.0;
constexpr double endless = std::numeric_limits<double>::infinity();

double any(double least, double most) {
    return least + (most - least) * double(*rc::gen::inRange(0, 1'000'001)) / 1e6;
}
std::string text(double value) { return shortest_text(value); }

Clocking clocking_of(const std::string& plate_text, std::vector<std::size_t> turning,
                     std::optional<double> wanted_mm = {}) {
    auto document =
        std::make_shared<const parameters::Document>(parameters::read_json(plate_text, "plate.json"));
    parts::Reader reader(*document, parts::units_of(*document));
    parts::AdapterPlate plate = parts::read_adapter_plate(reader);
    for (const auto& fault : reader.faults()) ADD_FAILURE() << parameters::to_text(fault);
    return {"test", "",    "plate.json", ClockedPlate(document, std::move(plate), std::move(turning)),
            0.0,    360.0, wanted_mm};
}

std::string plate_text(const std::string& more, double thickness = 30,
                       const std::string& outline = R"({"round": {"diameter": 400}})") {
    return R"({"format": 1, "part": "adapter_plate", "name": "plate", "units": "mm",
        "material": "aluminium 6061-T6", "bore": {"diameter": 60}, "thickness": )" +
           text(thickness) + R"(, "outline": )" + outline + ", " + more + "}";
}

std::string demo_plate() {
    std::ifstream file(FITUP_SOURCE_FOLDER "/examples/winch-adapter.json");
    std::ostringstream bytes;
    bytes << file.rdbuf();
    return bytes.str();
}

/// A plate with everything a turning hole can meet: recesses, blind holes from both sides with drill points,
/// a countersink, slots, a register, reliefs of three shapes, an outline with corners.
std::string crowded_plate(double shift_x, double start, const std::string& seen) {
    return plate_text(
        R"("registers": [{"side": "B", "kind": "recess", "diameter": 120, "depth": 5}],
        "patterns": [
          {"name": "turned", "seen_from": ")" +
            seen + R"(", "shift": [)" + text(shift_x) + R"(, 3],
           "points": [[110, 20], [-40, 105], [-95, -60], [52, -80], [20, 35]],
           "hole": {"kind": "tapped", "thread": "M10", "from": "B", "depth": 14}},
          {"name": "through", "seen_from": "B", "circle": {"diameter": 240, "count": 7, "start_angle": )" +
            text(start) + R"(},
           "hole": {"kind": "clearance", "for": "M10", "recess": {"for": "nut", "side": "A"}}},
          {"name": "sunk", "seen_from": "A", "circle": {"diameter": 190, "count": 3},
           "hole": {"kind": "drilled", "diameter": 7, "from": "A",
                    "countersink": {"side": "A", "diameter": 16, "angle": 90}}},
          {"name": "under", "seen_from": "A", "points": [[130, 40]],
           "hole": {"kind": "tapped", "thread": "M12", "from": "A", "depth": 9, "drill_depth": 12}},
          {"name": "slots", "seen_from": "B", "points": [[-20, 118], [95, -95]],
           "hole": {"kind": "dowel", "diameter": 10, "fit": "H7", "depth": 12,
                    "slot": {"length": 24, "direction": 30}}}],
        "reliefs": [{"side": "B", "circle": {"at": [-60, -105], "diameter": 50}, "depth": 12},
                    {"side": "A", "slot": {"from": [-40, 130], "to": [40, 130], "width": 22}, "depth": 10},
                    {"side": "A", "rectangle": {"at": [100, 60], "width": 44, "height": 30,
                      "corner_radius": 4, "angle": 20}, "depth": 9}])",
        30, R"({"rectangle": {"width": 330, "height": 300, "corner_radius": 30}})");
}

/// The least to spare at a turn: the plate planned anew with its pattern so turned, and every pair of cuts
/// measured there.
double spare_planned_anew(const Clocking& clocking, double turn_deg) {
    const plan::Plan plan = *clocking.plate.plan({turn_deg, {}, {}});
    const rules::Subject subject(plan);
    const auto turns = [&](const rules::Owner& owner) {
        if (owner.is_pocket) return false;
        for (const std::size_t i : clocking.plate.turning()) {
            if (plan.holes[owner.index].pattern == plan.patterns[i].name) return true;
        }
        return false;
    };
    double least = endless;
    const double rim = *subject.limits().of("rim").warn;
    for (std::size_t a = 0; a < subject.owners().size(); ++a) {
        const rules::Owner& first = subject.owners()[a];
        if (!turns(first)) continue;
        for (std::size_t i = first.first_cut; i < first.first_cut + first.cut_count; ++i) {
            const plan::Contour& contour = subject.cuts()[i].area.outer;
            const bool inside = subject.lie_in_outline(contour) == rules::Lie::inside;
            least = std::min(least, (inside ? subject.rim_mm(contour) : 0.0) - rim);
        }
        for (std::size_t b = 0; b < subject.owners().size(); ++b) {
            const rules::Owner& second = subject.owners()[b];
            if (turns(second)) continue;
            const bool left_out =
                second.is_pocket && (plan.pockets[second.index].kind == plan::PocketKind::mark ||
                                     plan.pockets[second.index].kind == plan::PocketKind::hollow);
            if (left_out) continue;
            const double wall = *rules::web_limit(subject, first, second).warn;
            for (std::size_t i = first.first_cut; i < first.first_cut + first.cut_count; ++i) {
                for (std::size_t j = second.first_cut; j < second.first_cut + second.cut_count; ++j) {
                    const plan::Cut &one = subject.cuts()[i], &other = subject.cuts()[j];
                    const plan::CutGap gap = plan::gap(one, other);
                    const bool is_in = second.is_pocket && gap.distance_mm <= plan::same_point_mm &&
                                       subject.lie_in_pocket(one.area.outer, j) == rules::Lie::inside;
                    // A thread turned into a relief would lose its length: that counts as meeting.
                    const plan::HoleKind kind = plan.holes[first.index].kind;
                    const bool loses_length =
                        is_in && plan.pockets[second.index].kind == plan::PocketKind::relief &&
                        (kind == plan::HoleKind::tapped || kind == plan::HoleKind::dowel);
                    if (is_in && !loses_length) continue;
                    const double across =
                        std::hypot(gap.on_first[0] - gap.on_second[0], gap.on_first[1] - gap.on_second[1]);
                    const bool is_floor =
                        gap.distance_mm > plan::same_point_mm && across <= plan::same_point_mm;
                    const bool is_hole =
                        one.role == plan::CutRole::hole || one.role == plan::CutRole::point ||
                        other.role == plan::CutRole::hole || other.role == plan::CutRole::point;
                    const double floor = is_hole ? *subject.limits().of("hole-floor").warn
                                                 : std::max(*rules::recess_floor_limit(subject, first).warn,
                                                            *rules::recess_floor_limit(subject, second).warn);
                    least = std::min(least, gap.distance_mm - (is_floor ? floor : wall));
                }
            }
        }
    }
    return least;
}

/// What `check` says of metal between a turned hole and something else, or the rim.
plan::Findings said_of_metal(const Clocking& clocking, double turn_deg) {
    plan::Findings said;
    for (auto& finding : rules::judge(*clocking.plate.plan({turn_deg, {}, {}}))) {
        const bool of_metal = finding.rule == "web" || finding.rule == "holes-meeting" ||
                              finding.rule == "doubled-hole" || finding.rule == "hole-floor" ||
                              finding.rule == "recess-floor" || finding.rule == "rim";
        const auto first = finding.where.find("turned-"), last = finding.where.rfind("turned-");
        // A floor over the far face alone hangs on no turn, nor does metal among the turned holes.
        const bool of_another = finding.where.find(',') != std::string::npos || finding.rule == "rim";
        if (of_metal && first != std::string::npos && first == last && of_another &&
            finding.severity != plan::Severity::note)
            said.push_back(std::move(finding));
    }
    return said;
}

/// A turned hole's centre lies over a relief.
bool has_hole_in_relief(const Clocking& clocking, double turn_deg) {
    const plan::Plan plan = *clocking.plate.plan({turn_deg, {}, {}});
    for (const std::size_t hole : plan.patterns[clocking.plate.turning().front()].holes) {
        for (const plan::Pocket& pocket : plan.pockets) {
            if (pocket.kind == plan::PocketKind::relief &&
                pocket.areas.front().outer.contains(plan.holes[hole].at_mm))
                return true;
        }
    }
    return false;
}

TEST(Clocking, the_web_is_that_of_a_plate_planned_anew) {
    EXPECT_TRUE(rc::check("turned in place or planned turned: the same metal", [] {
        const std::string seen = *rc::gen::element<std::string>("A", "B");
        const Clocking clocking = clocking_of(crowded_plate(any(-8, 8), any(0, 50), seen), {0});
        const WebField field = *field_of(clocking, {});
        for (int i = 0; i < 10; ++i) {
            const double turn_deg = any(-180, 360);
            RC_ASSERT(std::abs(field.at(turn_deg * rad).spare_mm - spare_planned_anew(clocking, turn_deg)) <
                      1e-6);
        }
    }));
}

TEST(Clocking, what_passes_is_what_the_rules_are_silent_about) {
    const Clocking clocking = clocking_of(crowded_plate(0, 11, "A"), {0});
    const WebField field = *field_of(clocking, {});
    int passing = 0;
    for (int i = 0; i < 240; ++i) {
        const double spare = field.at(i * 1.5 * rad).spare_mm;
        if (std::abs(spare) < 1e-7) continue;
        const plan::Findings said = said_of_metal(clocking, i * 1.5);
        if (spare > 0.0)
            EXPECT_TRUE(said.empty()) << i * 1.5 << " " << spare << " " << said.front().message;
        else
            EXPECT_TRUE(!said.empty() || has_hole_in_relief(clocking, i * 1.5)) << i * 1.5 << " " << spare;
        passing += spare > 0.0 ? 1 : 0;
    }
    EXPECT_GT(passing, 5);
    EXPECT_LT(passing, 235);
}

TEST(Clocking, slots_turn_with_their_direction) {
    const Clocking clocking = clocking_of(crowded_plate(0, 20, "A"), {4});
    const WebField field = *field_of(clocking, {});
    for (int i = 0; i < 90; ++i)
        EXPECT_NEAR(field.at(i * 4.1 * rad).spare_mm, spare_planned_anew(clocking, i * 4.1), 1e-6) << i;
}

TEST(Clocking, bounds_hold_everything_between) {
    EXPECT_TRUE(
        rc::check("no turn of a stretch lies outside the bounds; short stretches are bound closely", [] {
            const std::size_t turning = *rc::gen::element<std::size_t>(0, 1, 4);
            const Clocking clocking = clocking_of(crowded_plate(any(-8, 8), any(0, 50), "A"), {turning});
            const WebField field = *field_of(clocking, {});
            for (int k = 0; k < 10; ++k) {
                const double from = any(0, 360), length = std::pow(10.0, any(-4, 1.3));
                const WebField::Bounds bounds = field.over(from * rad, (from + length) * rad);
                for (int i = 0; i <= 20; ++i) {
                    const double spare = field.at((from + length * i / 20) * rad).spare_mm;
                    RC_ASSERT(spare >= bounds.least_mm - 1e-9);
                    RC_ASSERT(spare <= bounds.most_mm + 1e-9);
                }
            }
        }));
}

/// Two rings of through holes with the same count.
Clocking rings(double outer, double inner, int count, double start, std::optional<double> wanted = {}) {
    const auto ring = [&](const char* name, double diameter, double from) {
        return R"({"name": ")" + std::string(name) + R"(", "seen_from": "B", "circle": {"diameter": )" +
               text(diameter) + R"(, "count": )" + std::to_string(count) + R"(, "start_angle": )" +
               text(from) + R"(}, "hole": {"kind": "drilled", "diameter": 12}})";
    };
    return clocking_of(
        plate_text(R"("patterns": [)" + ring("turned", outer, start) + ", " + ring("still", inner, 0) + "]"),
        {0}, wanted);
}

TEST(Clocking, two_rings_in_closed_form) {
    EXPECT_TRUE(rc::check("half a spacing off, the distance by the law of cosines", [] {
        const int count = *rc::gen::inRange(8, 14);
        const double outer = any(150, 200), inner = any(130, 150), start = any(0, 360);
        const Clocking clocking = rings(outer, inner, count, start, 0.5);
        const BestTurn best = best_turn(*field_of(clocking, {}), 0.0, 360.0);
        const double half = std::numbers::pi / count;
        const double apart =
            std::sqrt(outer * outer / 4 + inner * inner / 4 - outer * inner / 2 * std::cos(half));
        RC_ASSERT(std::abs(best.metal.web_mm - (apart - 12.0)) < 1e-6 || apart < 12.0);
        // Off the inner ring by half a spacing, and whole spacings more.
        const double off = std::remainder(start + best.turn_deg - 180.0 / count, 360.0 / count);
        RC_ASSERT(std::abs(off) < 0.01 || apart < 12.0);
        RC_ASSERT(best.certain_within_mm < 1e-4);
    }));
}

TEST(Clocking, no_turn_of_a_fine_ladder_is_better) {
    for (const std::size_t turning : {0, 1, 4}) {
        const Clocking clocking = clocking_of(crowded_plate(0, 11, "A"), {turning});
        const WebField field = *field_of(clocking, {});
        const BestTurn best = best_turn(field, 0.0, 360.0);
        double most = -endless;
        for (int i = 0; i <= 36'000; ++i) most = std::max(most, field.at(i * 0.01 * rad).spare_mm);
        EXPECT_LE(most, best.metal.spare_mm + 1e-6);
        EXPECT_LT(best.certain_within_mm, 1e-4);
        EXPECT_NEAR(field.at(best.turn_deg * rad).spare_mm, best.metal.spare_mm, 1e-12);
    }
}

TEST(Clocking, a_passing_turn_narrower_than_any_ladder_is_found) {
    // The wanted web is set a hair under the best there is: what passes is a thousandth of a degree wide
    // and lies between the steps.
    const double best_mm = best_turn(*field_of(rings(180, 150, 9, 3.337), {}), 0.0, 360.0).metal.web_mm;
    const double wanted_mm = best_mm - 5e-4;
    const WebField field = *field_of(rings(180, 150, 9, 3.337, wanted_mm), {});
    const auto passing = ranges_with(field, 0.0, 360.0, 0.0);
    ASSERT_EQ(passing.size(), 9u);
    for (const TurnRange& range : passing) {
        EXPECT_LT(range.to_deg - range.from_deg, 0.002);
        EXPECT_GE(field.at(range.from_deg * rad).spare_mm, 0.0);
        EXPECT_GE(field.at(range.to_deg * rad).spare_mm, 0.0);
        EXPECT_LT(field.at((range.from_deg - 2 * range_exact_deg) * rad).spare_mm, 0.0);
        EXPECT_LT(field.at((range.to_deg + 2 * range_exact_deg) * rad).spare_mm, 0.0);
    }
}

TEST(Clocking, the_demo_plate_can_be_clocked) {
    const Clocking clocking = clocking_of(demo_plate(), {1, 2});
    const ClockingResult result = work_out(clocking, [](std::string_view) {});
    ASSERT_EQ(result.patterns.size(), 2u);
    EXPECT_EQ(result.patterns[0].pattern, "gearbox");
    // Measured on the casting at B, so seen from A; the dowels, seen from B, turn the other way in the file.
    EXPECT_NEAR(result.patterns[0].rotate_deg + result.patterns[1].rotate_deg, 360.0, 1e-9);
    const WebField field = *field_of(clocking, {});
    for (int i = 0; i < 360; ++i) EXPECT_LE(field.at(i * rad).spare_mm, result.best.metal.spare_mm + 1e-6);
    EXPECT_NEAR(spare_planned_anew(clocking, result.best.turn_deg), result.best.metal.spare_mm, 1e-6);
    EXPECT_LE(result.flat.from_deg, result.best.turn_deg);
    EXPECT_GE(result.flat.to_deg, result.best.turn_deg);
}

TEST(Clocking, what_would_pass_passes_and_nothing_nearer_does) {
    const Clocking clocking = rings(180, 150, 12, 0, 15.0);
    const ClockingResult result = work_out(clocking, [](std::string_view) {});
    ASSERT_FALSE(result.passes);
    ASSERT_FALSE(result.changes.empty());
    // Through holes don't part however thick the plate is.
    ASSERT_FALSE(result.in_vain.empty());
    EXPECT_NE(result.in_vain.front().find("thickness"), std::string::npos);
    const double half = std::numbers::pi / 12;
    for (const ClockingChange& change : result.changes) {
        const bool outer = change.key.find("turned") != std::string::npos;
        const double a = outer ? change.to_mm : 180.0, b = outer ? 150.0 : change.to_mm;
        const auto web = [&](double p, double q) {
            return std::sqrt(p * p / 4 + q * q / 4 - p * q / 2 * std::cos(half)) - 12.0;
        };
        EXPECT_GE(web(a, b), 15.0) << change.key << " " << change.to_mm;
        const double nearer = change.to_mm + (change.to_mm > change.from_mm ? -0.11 : 0.11);
        EXPECT_LT(outer ? web(nearer, b) : web(a, nearer), 15.0) << change.key << " " << change.to_mm;
    }
}

TEST(Clocking, a_thicker_plate_parts_blind_holes) {
    // Blind holes from both sides on one circle, each spacing as tight as it can be: only depth parts them.
    const auto ring = [](const char* name, const char* from) {
        return R"({"name": ")" + std::string(name) +
               R"(", "seen_from": "B", "circle": {"diameter": 200, "count": 30},
            "hole": {"kind": "drilled", "diameter": 12, "from": ")" +
               from + R"(", "depth": 12, "point": "flat"}})";
    };
    const Clocking clocking = clocking_of(
        plate_text(R"("patterns": [)" + ring("turned", "A") + ", " + ring("still", "B") + "]", 25), {0}, 4.0);
    const ClockingResult result = work_out(clocking, [](std::string_view) {});
    ASSERT_FALSE(result.passes);
    ASSERT_FALSE(result.changes.empty());
    EXPECT_EQ(result.changes.front().key, "thickness");
    // Floors 4 mm apart would need 28; half a spacing off, the edges lie aside by 2 R sin(3 deg) - 12.
    const double aside = std::max(0.0, 200.0 * std::sin(3.0 * rad) - 12.0);
    EXPECT_NEAR(result.changes.front().to_mm, 24.0 + std::sqrt(16.0 - aside * aside), 0.11);
}

}  // namespace

}  // namespace fitup::calculations
