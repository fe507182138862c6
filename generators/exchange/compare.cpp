#include <algorithm>
#include <cmath>
#include <limits>

#include "base/text.hpp"
#include "exchange/compare_rod.hpp"
#include "exchange/cross_holes.hpp"
#include "exchange/measurement.hpp"
#include "plan/skin.hpp"

namespace fitup::exchange {

namespace {

/// A candidate farther than this from where a hole should be is another hole, not the same one moved.
constexpr double farthest_move_mm = 10.0;
/// Arcs this near to a crossed hole's place are taken for pieces of its wall.
constexpr double near_mm = 1.0;
/// A round wall that goes all the way round; less is an arc of a slot, a pocket or a cut hole.
constexpr double full_turn_deg = 359.0;

/// A round wall, metal outside, that the plan leads one to expect.
struct Expected {
    std::string id;
    plan::Point centre;
    double radius_mm = 0.0;
    double z_low_mm = 0.0;
    double z_high_mm = 0.0;
    bool partial = false;  ///< overlapped by another cut, or the end of a slot: its range is not checked
    bool may_be_gone = false;
};

std::string place_text(plan::Point centre, double radius_mm, double low_mm, double high_mm) {
    return "d " + short_text(2.0 * radius_mm, 4) + " at " + short_text(centre.x_mm, 4) + ", " +
           short_text(centre.y_mm, 4) + ", z " + short_text(low_mm, 4) + " to " + short_text(high_mm, 4);
}

void expect_contour(std::vector<Expected>& list, const std::string& id, const plan::Contour& contour,
                    double low_mm, double high_mm, bool partial) {
    if (const plan::Circle* circle = contour.circle()) {
        list.push_back({id, circle->centre, circle->radius_mm, low_mm, high_mm, partial});
        return;
    }
    for (const plan::Edge& edge : contour.edges()) {
        if (!edge.arc || edge.arc->turn != plan::Turn::anticlockwise) continue;
        list.push_back(
            {id, edge.arc->centre, plan::distance_mm(edge.from, edge.arc->centre), low_mm, high_mm, true});
    }
}

/// Whether another cut takes some of a wall away, so that its range and sweep are not what the skin says.
bool is_cut_across(const plan::Cut& wall, const std::vector<plan::Cut>& overlapping) {
    return std::any_of(overlapping.begin(), overlapping.end(), [&wall](const plan::Cut& cut) {
        return plan::gap(wall, cut).distance_mm < plan::same_point_mm;
    });
}

std::vector<Expected> expected_walls(const plan::Plan& plan) {
    const plan::SkinResult result = plan::skin(plan);
    std::vector<Expected> list;
    for (const plan::Wall& wall : result.skin.walls) {
        if (wall.metal_inside) continue;
        const plan::Contour& contour = result.skin.contours[wall.contour];
        const plan::Cut prism{
            wall.name, plan::CutRole::hole, 0, {contour, {}}, wall.z_low_mm, wall.z_high_mm, false, false,
            {}};
        expect_contour(list, wall.name, contour, wall.z_low_mm, wall.z_high_mm,
                       is_cut_across(prism, result.overlapping));
    }
    for (const plan::Cut& cut : result.overlapping) {
        if (cut.cone) continue;
        const std::size_t before = list.size();
        expect_contour(list, cut.id, cut.area.outer, cut.z_low_mm, cut.z_high_mm, true);
        // Nothing of a pocket's or recess's round wall need be left; of a hole's shaft something must.
        const bool may_be_gone = cut.role == plan::CutRole::pocket || cut.role == plan::CutRole::recess;
        for (std::size_t i = before; i < list.size(); ++i) list[i].may_be_gone = may_be_gone;
    }
    for (Expected& wall : list) {
        const double level_mm = plan::level_mm(plan, wall.centre);
        wall.z_low_mm += level_mm;
        wall.z_high_mm += level_mm;
    }
    return list;
}

bool is_along_z(const Cylinder& cylinder) {
    return cylinder.is_hole && std::abs(cylinder.axis[2]) > 1.0 - 1e-6;
}

plan::Point centre_of(const Cylinder& cylinder) { return {cylinder.axis_point[0], cylinder.axis_point[1]}; }

struct Difference {
    double moved_mm = 0.0;
    double diameter_mm = 0.0;
    double range_mm = 0.0;
    double worst() const { return std::max({moved_mm, diameter_mm, range_mm}); }
};

Difference difference(const Expected& wanted, const Cylinder& found) {
    Difference off{plan::distance_mm(wanted.centre, centre_of(found)),
                   2.0 * std::abs(wanted.radius_mm - found.radius_mm), 0.0};
    if (!wanted.partial)
        off.range_mm =
            std::max(std::abs(wanted.z_low_mm - found.low_mm), std::abs(wanted.z_high_mm - found.high_mm));
    return off;
}

/// The free found wall that differs least from what is wanted; none within reach.
std::optional<std::size_t> best_match(const Expected& wanted, const std::vector<const Cylinder*>& walls,
                                      const std::vector<bool>& used) {
    // Of a wall that another cut crosses, the longest arc near its place is the one that is known best.
    double longest_deg = 0.0;
    for (const Cylinder* wall : walls) {
        const Difference off = wanted.partial ? difference(wanted, *wall) : Difference{};
        if (wanted.partial && off.worst() < near_mm) longest_deg = std::max(longest_deg, wall->sweep_deg);
    }
    std::optional<std::size_t> best;
    double least_mm = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < walls.size(); ++i) {
        // A partial wall may serve twice: two ends of one slot, or a wall cut in two that the file joins
        // again.
        if (used[i] && !wanted.partial) continue;
        if (walls[i]->sweep_deg < 0.9 * longest_deg) continue;
        if (std::abs(walls[i]->axis_point[0] - wanted.centre.x_mm) > farthest_move_mm) continue;
        const Difference off = difference(wanted, *walls[i]);
        if (off.moved_mm > farthest_move_mm || off.diameter_mm > wanted.radius_mm) continue;
        if (off.worst() >= least_mm) continue;
        least_mm = off.worst();
        best = i;
    }
    return best;
}

Verdict verdict_of(const Difference& off, double within_mm) {
    if (off.moved_mm > within_mm) return Verdict::moved;
    if (off.diameter_mm > within_mm) return Verdict::resized;
    return off.range_mm > within_mm ? Verdict::differs : Verdict::same;
}

void compare_walls(Comparison& comparison, const std::vector<Expected>& wanted, const Measurement& found,
                   double within_mm, bool is_mesh) {
    std::vector<const Cylinder*> walls;
    for (const Cylinder& cylinder : found.cylinders) {
        if (is_along_z(cylinder)) walls.push_back(&cylinder);
    }
    std::vector<bool> used(walls.size(), false);
    std::vector<bool> settled(wanted.size(), false);
    std::vector<Row> rows(wanted.size());
    // Exact matches first, so that a moved hole cannot take its neighbour's place.
    for (const bool exact : {true, false}) {
        for (std::size_t w = 0; w < wanted.size(); ++w) {
            if (settled[w]) continue;
            const auto match = best_match(wanted[w], walls, used);
            Row& row = rows[w];
            row = {wanted[w].id, Verdict::missing,
                   place_text(wanted[w].centre, wanted[w].radius_mm, wanted[w].z_low_mm, wanted[w].z_high_mm),
                   "", 0.0};
            if (!match) continue;
            const Difference off = difference(wanted[w], *walls[*match]);
            row.verdict = verdict_of(off, within_mm);
            if (exact && row.verdict != Verdict::same) continue;
            row.found = place_text(centre_of(*walls[*match]), walls[*match]->radius_mm, walls[*match]->low_mm,
                                   walls[*match]->high_mm);
            row.difference_mm = off.worst();
            used[*match] = settled[w] = true;
        }
    }
    // What another cut may have taken away altogether is not missed.
    for (std::size_t w = 0; w < wanted.size(); ++w) {
        if (is_mesh && wanted[w].partial && rows[w].verdict == Verdict::missing)
            rows[w].verdict = Verdict::unmeasured;
        if (!wanted[w].may_be_gone || rows[w].verdict == Verdict::same)
            comparison.rows.push_back(std::move(rows[w]));
    }
    for (std::size_t i = 0; i < walls.size(); ++i) {
        if (used[i] || walls[i]->sweep_deg < full_turn_deg) continue;
        comparison.rows.push_back(
            {"extra hole", Verdict::extra, "",
             place_text(centre_of(*walls[i]), walls[i]->radius_mm, walls[i]->low_mm, walls[i]->high_mm),
             0.0});
    }
}

Row compare_box(const plan::Box& wanted, const plan::Box& found, double within_mm) {
    double worst_mm = 0.0;
    std::string expected, measured;
    for (std::size_t axis = 0; axis < 3; ++axis) {
        worst_mm = std::max({worst_mm, std::abs(wanted.least[axis] - found.least[axis]),
                             std::abs(wanted.most[axis] - found.most[axis])});
        const std::string separator = axis > 0 ? " x " : "";
        expected += separator + short_text(wanted.most[axis] - wanted.least[axis], 4);
        measured += separator + short_text(found.most[axis] - found.least[axis], 4);
    }
    return {"bounding box", worst_mm > within_mm ? Verdict::differs : Verdict::same, expected, measured,
            worst_mm};
}

}  // namespace

const char* to_text(Verdict verdict) {
    switch (verdict) {
        case Verdict::same:
            return "same";
        case Verdict::missing:
            return "missing";
        case Verdict::extra:
            return "extra";
        case Verdict::moved:
            return "moved";
        case Verdict::resized:
            return "resized";
        case Verdict::differs:
            return "differs";
        case Verdict::unmeasured:
            return "not measured";
    }
    return "";
}

bool Comparison::agrees() const {
    return std::all_of(rows.begin(), rows.end(), [](const Row& row) {
        return row.verdict == Verdict::same || row.verdict == Verdict::unmeasured;
    });
}

Comparison compare(const plan::Plan& plan, const Expectation& expectation, const Measurement& found,
                   double within_mm) {
    Comparison comparison;
    const double off = std::abs(found.volume_mm3 - expectation.volume_mm3) / expectation.volume_mm3;
    comparison.rows.push_back(
        {"volume", off > expectation.volume_tolerance_relative ? Verdict::differs : Verdict::same,
         fixed_text(expectation.volume_mm3, 3) + " mm3", fixed_text(found.volume_mm3, 3) + " mm3", 0.0});
    // A polygon may miss the extreme point of an arc by its chord.
    comparison.rows.push_back(compare_box(expectation.box, found.box, within_mm + expectation.chord_mm));
    comparison.rows.push_back(
        {"bodies", found.bodies == 1 && found.closed ? Verdict::same : Verdict::differs, "1, closed",
         std::to_string(found.bodies) + (found.closed ? ", closed" : ", NOT CLOSED"), 0.0});
    if (plan.rod) {
        append_rod_rows(comparison, *plan.rod, found, within_mm, expectation.chord_mm);
        return comparison;
    }
    compare_walls(comparison, expected_walls(plan), found, within_mm, expectation.chord_mm > 0.0);
    compare_cross_holes(comparison, plan, found, within_mm, expectation.chord_mm > 0.0);
    return comparison;
}

}  // namespace fitup::exchange
