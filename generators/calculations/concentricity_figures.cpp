#include "calculations/concentricity_figures.hpp"

namespace fitup::calculations {

namespace {

using plan::Work;

/// Always both, so that nobody takes one for the other.
Work both(double offset_mm) { return {{"offset_mm", "", offset_mm}, {"reading_mm", "", 2.0 * offset_mm}}; }

Work contribution_row(const Contribution& one, const ContributionResult& result) {
    Work row{{"name", "", one.name},
             {"measure", "", std::string(to_text(one.measure))},
             {"stated_mm", "", std::vector<double>{one.least, one.most}},
             {"fixed", "", one.fixed},
             {"offset_mm", "", result.offset_mm},
             {"reading_mm", "", 2.0 * result.offset_mm},
             {"of_worst_case", "", result.of_worst_case},
             {"of_square", "", result.of_square}};
    if (result.alone_to) row.push_back({"alone_to_mm", "", *result.alone_to});
    if (!one.from.empty()) row.push_back({"from", "", one.from});
    return row;
}

std::vector<double> pair(const std::array<double, 2>& values) { return {values[0], values[1]}; }

void add_checks(const DialResult& dial, Work& row) {
    row.push_back({"sum_error_mm", "", dial.sum_error_mm});
    row.push_back({"sum_agrees", "", dial.sum_agrees});
    if (!dial.return_error_mm) return;
    row.push_back({"return_error_mm", "", *dial.return_error_mm});
    row.push_back({"returns", "", dial.returns});
}

Work bore_figures(const DialResult& dial) {
    Work row{{"lies_mm", "", pair(dial.offset_mm)},
             {"offset_mm", "", dial.total_offset_mm},
             {"reading_mm", "", dial.reading_mm},
             {"move_mm", "", pair(dial.move_mm)}};
    add_checks(dial, row);
    return row;
}

Work face_figures(const DialResult& dial, double diameter_mm) {
    Work row{{"rise_mm", "", pair(dial.offset_mm)},
             {"reading_mm", "", dial.reading_mm},
             {"mm_in_a_metre", "", 1000.0 * dial.reading_mm / diameter_mm}};
    add_checks(dial, row);
    return row;
}

void add_budget(const ConcentricityResult& result, Work& figures) {
    std::vector<Work> rows;
    for (std::size_t i = 0; i < result.contributions.size(); ++i)
        rows.push_back(contribution_row(result.asked.contributions[i], result.contributions[i]));
    figures.push_back({"worst_case", "", both(result.worst_offset_mm)});
    figures.push_back({"statistical", "", both(result.rss_offset_mm)});
    figures.push_back({"fixed", "", both(result.fixed_offset_mm)});
    figures.push_back({"share_over_limit", "", result.share_over});
    if (result.all_to) figures.push_back({"all_to_share", "", *result.all_to});
    figures.push_back({"reamed_at_assembly", "", result.asked.reamed_at_assembly});
    figures.push_back({"contributions", "", std::move(rows)});
}

}  // namespace

Work concentricity_figures(const ConcentricityResult& result) {
    Work figures{{"limit", "", both(result.limit_offset_mm)}};
    if (!result.contributions.empty()) add_budget(result, figures);
    if (result.bore) figures.push_back({"dial", "", bore_figures(*result.bore)});
    if (result.face)
        figures.push_back({"face", "", face_figures(*result.face, result.asked.face->face_diameter_mm)});
    return figures;
}

}  // namespace fitup::calculations
