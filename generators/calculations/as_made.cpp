#include "calculations/as_made.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "calculations/laying.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using plan::Work;

/// Whether some laying brings every hole within its zone: then no laying may call one too far off.
bool all_within_zones(const AsMade& made) {
    std::vector<FastenerPair> pairs;
    for (std::size_t i = 0; i < made.ids.size(); ++i) {
        if (made.zone_mm[i] > 0.0)
            pairs.push_back({made.drawn_mm[i], made.measured_mm[i], made.zone_mm[i] / 2.0});
    }
    return pairs.empty() || bolts_up(pairs);
}

/// The measured plate laid on its plan so that wrong holes stand out.
std::vector<HoleOff> holes_off(const AsMade& made) {
    std::vector<FastenerPair> pairs;
    for (std::size_t i = 0; i < made.ids.size(); ++i)
        pairs.push_back({made.drawn_mm[i], made.measured_mm[i], 0.0});
    const Laying laying = least_sum_laying(pairs);
    const bool all_within = all_within_zones(made);
    std::vector<HoleOff> holes;
    for (std::size_t i = 0; i < made.ids.size(); ++i) {
        const plan::Point by = laid(laying, made.measured_mm[i]) - made.drawn_mm[i];
        const double off_mm = plan::length(by);
        const bool within = all_within || made.zone_mm[i] <= 0.0 || off_mm <= made.zone_mm[i] / 2.0;
        holes.push_back({made.ids[i], made.drawn_mm[i], by, off_mm, made.zone_mm[i], within});
    }
    return holes;
}

/// One for all holes, at the worst.
void add_zones(const AsMadeResult& result, plan::Findings& findings) {
    const HoleOff* worst = nullptr;
    std::string where;
    for (const HoleOff& hole : result.holes) {
        if (hole.within_zone) continue;
        where += (where.empty() ? "" : ", ") + hole.id;
        if (worst == nullptr || hole.distance_mm > worst->distance_mm) worst = &hole;
    }
    if (worst == nullptr) return;
    plan::Finding finding = plan::finding_of(
        "position-tolerance", plan::Severity::warn, where,
        "further from its place on the plan than its position tolerance allows: " + worst->id + " by " +
            short_text(worst->distance_mm, 3) + " mm, where a zone of diameter " +
            short_text(worst->zone_mm, 3) + " mm allows " + short_text(worst->zone_mm / 2.0, 3) + " mm");
    finding.value = worst->distance_mm;
    finding.limit = worst->zone_mm / 2.0;
    finding.unit = "mm";
    finding.at_mm = {{worst->drawn_mm.x_mm, worst->drawn_mm.y_mm, 0.0}};
    findings.push_back(std::move(finding));
}

std::vector<Work> hole_rows(const AsMadeResult& result) {
    std::vector<Work> rows;
    for (const HoleOff& hole : result.holes)
        rows.push_back({{"id", "", hole.id},
                        {"dx_mm", "", hole.by_mm.x_mm},
                        {"dy_mm", "", hole.by_mm.y_mm},
                        {"off_mm", "", hole.distance_mm},
                        {"position_tolerance_mm", "", hole.zone_mm},
                        {"within", "", hole.within_zone}});
    return rows;
}

/// Without locators a casting is laid where its bolts have most room.
plan::Point centre_as_laid(const AsMade& made, const AsMadeResult& result, std::size_t casting) {
    const auto& located = result.located[casting];
    return laid(located ? located->fit : result.castings[casting].fit, *made.castings[casting].centre_mm);
}

std::optional<OutOfLine> worst_out_of_line(const AsMade& made, const AsMadeResult& result) {
    std::optional<OutOfLine> worst;
    for (std::size_t i = 0; i < made.castings.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
            if (!made.castings[i].centre_mm || !made.castings[j].centre_mm) continue;
            const double offset_mm =
                plan::length(centre_as_laid(made, result, i) - centre_as_laid(made, result, j));
            if (!worst || offset_mm > worst->offset_mm) worst = OutOfLine{{j, i}, offset_mm};
        }
    }
    return worst;
}

void judge_casting(const AsMadeCasting& casting, AsMadeResult& result) {
    result.castings.push_back(bolt_up(casting.bolting));
    const BoltsUp& alone = result.castings.back();
    plan::append(result.findings, bolts_up_findings(casting.bolting, alone, casting.words));
    result.holds = result.holds && alone.fit.possible();
    result.located.emplace_back();
    if (casting.located.ids.empty()) return;
    const std::size_t bolts = casting.bolting.ids.size();
    result.located.back() = located_fit(casting.located, bolts);
    if (!alone.fit.possible()) return;
    plan::append(result.findings,
                 located_findings(casting.located, bolts, *result.located.back(), casting.words));
    result.holds = result.holds && result.located.back()->fit.possible();
}

}  // namespace

AsMadeResult work_out(const AsMade& made) {
    AsMadeResult result;
    result.holes = holes_off(made);
    for (const HoleOff& hole : result.holes) result.worst_mm = std::max(result.worst_mm, hole.distance_mm);
    for (const AsMadeCasting& casting : made.castings) judge_casting(casting, result);
    result.out_of_line = worst_out_of_line(made, result);
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
        if (result.located[i])
            row.push_back({"located", "",
                           located_figures(made.castings[i].located, made.castings[i].bolting.ids.size(),
                                           *result.located[i])});
        castings.push_back(std::move(row));
    }
    Work figures{{"possible", "", result.holds},
                 {"worst_off_mm", "", result.worst_mm},
                 {"holes", "", hole_rows(result)},
                 {"castings", "", std::move(castings)}};
    if (result.out_of_line) figures.push_back({"out_of_line_mm", "", result.out_of_line->offset_mm});
    return figures;
}

}  // namespace fitup::calculations
