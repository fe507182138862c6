#include <algorithm>
#include <cmath>
#include <iterator>

#include "base/text.hpp"
#include "exchange/compare_rod.hpp"
#include "exchange/cross_holes.hpp"
#include "exchange/match.hpp"

namespace fitup::exchange {

namespace {

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

void append(std::vector<Row>& rows, std::vector<Row> more) {
    rows.insert(rows.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

/// Of a hole whose thread is modelled, a plain wall is left below the run-out only. The thread itself is held
/// by the volume and the box.
void leave_out_threads(const plan::Plan& plan, std::vector<ExpectedWall>& walls) {
    for (const plan::Hole& hole : plan.holes) {
        if (!hole.thread || !hole.thread->modelled) continue;
        const bool from_b = hole.from == plan::Side::B;
        const double face_mm = plan::level_mm(plan, hole.at_mm) + (from_b ? plan.body.thickness_mm : 0.0);
        const bool goes_through = hole.thread->depth_mm >= plan.body.thickness_mm - plan::same_point_mm;
        const double end_mm = hole.thread->depth_mm + hole.thread->pitch_mm;
        std::erase_if(walls, [&](ExpectedWall& wall) {
            if (wall.id != hole.id || std::abs(2.0 * wall.radius_mm - hole.diameter_mm) > plan::same_point_mm)
                return false;
            (from_b ? wall.high_mm : wall.low_mm) = from_b ? face_mm - end_mm : face_mm + end_mm;
            wall.is_plain = false;  // a mesh shows the thread's root beside it as a wall of the same size
            return goes_through || wall.high_mm - wall.low_mm < plan::same_point_mm;
        });
    }
}

/// In a mesh, crest and root of a thread look like short round walls: what lies about its axis is not judged
/// there.
Measurement without_threads(const plan::Plan& plan, const Measurement& found) {
    constexpr double about_mm = 0.05;
    Measurement rest = found;
    for (const plan::Hole& hole : plan.holes) {
        if (!hole.thread || !hole.thread->modelled) continue;
        std::erase_if(rest.cylinders, [&](const Cylinder& wall) {
            const plan::Point at{wall.axis_point[0], wall.axis_point[1]};
            return is_along_z(wall.axis) && plan::distance_mm(at, hole.at_mm) < about_mm &&
                   2.0 * wall.radius_mm < hole.thread->major_mm + about_mm;
        });
    }
    return rest;
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
    const Metal metal(plan);
    const Strictness strictness{within_mm, expectation.chord_mm > 0.0};
    std::vector<ExpectedWall> walls = expected_walls(plan, metal);
    leave_out_threads(plan, walls);
    const Measurement plain = strictness.is_mesh ? without_threads(plan, found) : found;
    append(comparison.rows, wall_rows(walls, plain, strictness));
    append(comparison.rows, cone_rows(expected_cones(plan, metal), walls, plain, strictness));
    compare_cross_holes(comparison, plan, found, within_mm, strictness.is_mesh);
    return comparison;
}

}  // namespace fitup::exchange
