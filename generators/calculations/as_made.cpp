#include "calculations/as_made.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using plan::Work;

/// The measured plate laid on its plan: the greatest distance is least, as no fastener has slack.
std::vector<HoleOff> holes_off(const AsMade& made) {
    std::vector<FastenerPair> pairs;
    for (std::size_t i = 0; i < made.ids.size(); ++i)
        pairs.push_back({made.drawn_mm[i], made.measured_mm[i], 0.0});
    const BoltFit fit = best_fit(pairs);
    std::vector<HoleOff> holes;
    for (std::size_t i = 0; i < made.ids.size(); ++i) {
        const plan::Point by = laid(fit, made.measured_mm[i]) - made.drawn_mm[i];
        holes.push_back({made.ids[i], made.drawn_mm[i], by, plan::length(by), made.zone_mm[i]});
    }
    return holes;
}

void add_zones(const AsMadeResult& result, plan::Findings& findings) {
    for (const HoleOff& hole : result.holes) {
        if (hole.within_zone()) continue;
        plan::Finding finding = plan::finding_of(
            "position-tolerance", plan::Severity::warn, hole.id,
            "lies " + short_text(hole.distance_mm, 3) + " mm from its place on the plan, more than the " +
                short_text(hole.zone_mm / 2.0, 3) + " mm that its position tolerance of diameter " +
                short_text(hole.zone_mm, 3) + " mm allows");
        finding.value = hole.distance_mm;
        finding.limit = hole.zone_mm / 2.0;
        finding.unit = "mm";
        finding.at_mm = {{hole.drawn_mm.x_mm, hole.drawn_mm.y_mm, 0.0}};
        findings.push_back(std::move(finding));
    }
}

std::vector<Work> hole_rows(const AsMadeResult& result) {
    std::vector<Work> rows;
    for (const HoleOff& hole : result.holes)
        rows.push_back({{"id", "", hole.id},
                        {"dx_mm", "", hole.by_mm.x_mm},
                        {"dy_mm", "", hole.by_mm.y_mm},
                        {"off_mm", "", hole.distance_mm},
                        {"position_tolerance_mm", "", hole.zone_mm},
                        {"within", "", hole.within_zone()}});
    return rows;
}

}  // namespace

AsMadeResult work_out(const AsMade& made) {
    AsMadeResult result;
    result.holes = holes_off(made);
    for (const HoleOff& hole : result.holes) result.worst_mm = std::max(result.worst_mm, hole.distance_mm);
    for (const AsMadeCasting& casting : made.castings) {
        result.castings.push_back(bolt_up(casting.bolting));
        plan::append(result.findings,
                     bolts_up_findings(casting.bolting, result.castings.back(), casting.words));
        result.holds = result.holds && result.castings.back().fit.possible();
    }
    add_zones(result, result.findings);
    plan::sort_by_severity(result.findings);
    return result;
}

Work as_made_figures(const AsMade& made, const AsMadeResult& result) {
    std::vector<Work> castings;
    for (std::size_t i = 0; i < made.castings.size(); ++i) {
        Work row{{"pattern", "", made.castings[i].pattern}, {"casting", "", made.castings[i].words}};
        const Work figures = bolts_up_figures(made.castings[i].bolting, result.castings[i]);
        row.push_back({"bolts_up", "", figures});
        castings.push_back(std::move(row));
    }
    return {{"possible", "", result.holds},
            {"worst_off_mm", "", result.worst_mm},
            {"holes", "", hole_rows(result)},
            {"castings", "", std::move(castings)}};
}

}  // namespace fitup::calculations
