#include "calculations/clocking_figures.hpp"

namespace fitup::calculations {

namespace {

using plan::Work;

std::vector<Work> pattern_rows(const ClockingResult& result) {
    std::vector<Work> rows;
    for (const PatternTurn& one : result.patterns)
        rows.push_back({{"pattern", "", one.pattern}, {"rotate_deg", "", one.rotate_deg}});
    return rows;
}

std::vector<Work> pair_rows(const ClockingResult& result) {
    std::vector<Work> rows;
    for (const ClockingPair& one : result.least)
        rows.push_back({{"where", "", one.where},
                        {"between", "", one.words},
                        {"web_mm", "", one.web_mm},
                        {"wanted_mm", "", one.wanted_mm}});
    return rows;
}

std::vector<std::vector<double>> ranges(const std::vector<TurnRange>& all) {
    std::vector<std::vector<double>> result;
    for (const TurnRange& one : all) result.push_back({one.from_deg, one.to_deg});
    return result;
}

std::vector<Work> change_rows(const ClockingResult& result) {
    std::vector<Work> rows;
    for (const ClockingChange& one : result.changes)
        rows.push_back({{"key", "", one.key},
                        {"from_mm", "", one.from_mm},
                        {"to_mm", "", one.to_mm},
                        {"turn_deg", "", one.turn_deg}});
    return rows;
}

}  // namespace

Work clocking_figures(const ClockingResult& result) {
    const WebField::Metal& metal = result.best.metal;
    Work figures{
        {"passes", "", result.passes},
        {"best_deg", "", result.best.turn_deg},
        {"least_web_mm", "", metal.web_mm},
        {"wanted_web_mm", "", metal.wanted_mm},
        {"spare_mm", "", metal.spare_mm},
        {"certain_within_mm", "", result.best.certain_within_mm},
        {"flat_deg", "", std::vector<double>{result.flat.from_deg, result.flat.to_deg}},
        {"passing_deg", "", ranges(result.passing)},
        {"patterns", "", pattern_rows(result)},
        {"least", "", pair_rows(result)},
        {"now", "", Work{{"least_web_mm", "", result.now.web_mm}, {"spare_mm", "", result.now.spare_mm}}}};
    if (!result.passes) figures.push_back({"would_pass", "", change_rows(result)});
    return figures;
}

}  // namespace fitup::calculations
