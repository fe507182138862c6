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
    const std::vector<ExpectedWall> walls = expected_walls(plan, metal);
    append(comparison.rows, wall_rows(walls, found, strictness));
    append(comparison.rows, cone_rows(expected_cones(plan, metal), walls, found, strictness));
    compare_cross_holes(comparison, plan, found, within_mm, strictness.is_mesh);
    return comparison;
}

}  // namespace fitup::exchange
