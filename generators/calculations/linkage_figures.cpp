#include "calculations/linkage_figures.hpp"

#include <cmath>

namespace fitup::calculations {

namespace {

using plan::Work;

Work joints_row(const Linkage& linkage, const PositionResult& position) {
    Work row;
    for (std::size_t i = 0; i < position.joints.size(); ++i) {
        const std::string& rod = linkage.rods[i].name;
        row.push_back({rod + " at " + linkage.levers[i].name, "", position.joints[i].first_deg});
        row.push_back({rod + " at " + linkage.levers[i + 1].name, "", position.joints[i].last_deg});
    }
    return row;
}

Work position_row(const Linkage& linkage, const PositionResult& position) {
    Work row{{"name", "", position.name},
             {"input_deg", "", position.input_deg},
             {"wanted_deg", "", position.wanted_deg},
             {"window_deg", "", std::vector<double>{-position.below_deg, position.above_deg}}};
    if (position.gap_mm > 0.0) {
        row.push_back({"gap_mm", "", position.gap_mm});
        row.push_back({"verdict", "", std::string(to_text(position.verdict))});
        return row;
    }
    const Work rest{{"got_deg", "", position.got_deg},
                    {"error_deg", "", position.error_deg},
                    {"margin_deg", "", position.margin_deg},
                    {"error_mm", "", position.error_mm},
                    {"margin_mm", "", position.margin_mm},
                    {"lost_motion_deg", "",
                     Work{{"new", "", position.lost_new_deg}, {"worn", "", position.lost_worn_deg}}},
                    {"transmission_deg", "", position.transmission_deg},
                    {"mechanical_advantage", "", position.mechanical_advantage},
                    {"ratio", "", position.ratio},
                    {"proportion_deg", "", position.proportion_deg},
                    {"lever_deg", "", position.lever_deg},
                    {"other_assembly_deg", "", position.other_deg},
                    {"joint_angles_deg", "", joints_row(linkage, position)},
                    {"verdict", "", std::string(to_text(position.verdict))}};
    row.insert(row.end(), rest.begin(), rest.end());
    if (!position.neighbours.empty()) row.push_back({"neighbours", "", position.neighbours});
    return row;
}

std::vector<Work> position_rows(const Linkage& linkage, const std::vector<PositionResult>& positions) {
    std::vector<Work> rows;
    for (const PositionResult& position : positions) rows.push_back(position_row(linkage, position));
    return rows;
}

Work solved_values(const LinkageResult& result, bool as_set) {
    Work values;
    for (const Solved& solved : result.solved)
        values.push_back({solved.key, "", as_set ? solved.set_value : solved.value});
    return values;
}

std::vector<Work> solved_rows(const LinkageResult& result) {
    std::vector<Work> rows;
    for (const Solved& solved : result.solved) {
        Work row{{"key", "", solved.key},
                 {"between", "", std::vector<double>{solved.between.least, solved.between.most}},
                 {"serves", "", std::vector<double>{solved.serves.least, solved.serves.most}}};
        if (!solved.part_file.empty()) {
            row.push_back({"part", "", solved.part_file});
            row.push_back({"part_key", "", solved.part_key});
            row.push_back({"part_has", "", solved.part_value});
        }
        rows.push_back(std::move(row));
    }
    return rows;
}

Work setting_figures(const LinkageResult& result) {
    const Setting& setting = *result.set;
    std::vector<Work> rods;
    for (const RodSetting& rod : setting.rods)
        rods.push_back({{"rod", "", rod.rod},
                        {"cut_mm", "", rod.cut_mm},
                        {"set_mm", "", rod.set_mm},
                        {"steps", "", rod.steps},
                        {"turns", "", rod.turns},
                        {"left_shorter_mm", "", rod.left_shorter_mm},
                        {"left_longer_mm", "", rod.left_longer_mm},
                        {"one_turn_deg", "", rod.turn_deg},
                        {"one_turn_mm", "", rod.turn_mm}});
    return {{"solved", "", solved_values(result, true)},
            {"rods", "", std::move(rods)},
            {"positions", "", position_rows(result.exact, setting.positions)},
            {"worst_margin_deg", "", setting.worst_margin_deg}};
}

std::vector<Work> stretch_rows(const LinkageResult& result) {
    std::vector<Work> rows;
    for (const Stretch& stretch : result.outside)
        rows.push_back({{"from_deg", "", stretch.from_deg},
                        {"to_deg", "", stretch.to_deg},
                        {"between", "", stretch.between}});
    return rows;
}

std::vector<Work> end_rows(const LinkageResult& result) {
    std::vector<Work> rows;
    for (const EndResult& end : result.ends) {
        Work row{{"position", "", end.position},
                 {"input_stop_deg", "", end.input_stop_deg},
                 {"over_travel_deg", "", end.over_travel_deg},
                 {"output_at_stop_deg", "", end.output_at_stop_deg},
                 {"past_home_deg", "", end.past_home_deg}};
        if (end.output_stop_deg) {
            row.push_back({"output_stop_deg", "", *end.output_stop_deg});
            row.push_back({"to_output_stop_deg", "", *end.to_output_stop_deg});
        }
        row.push_back({"verdict", "", end.verdict});
        rows.push_back(std::move(row));
    }
    return rows;
}

std::vector<Work> influence_rows(const LinkageResult& result) {
    std::vector<Work> rows;
    for (const Influence& influence : result.influences)
        rows.push_back({{"dimension", "", influence.dimension},
                        {"tolerance_mm", "", influence.tolerance_mm},
                        {"moves_deg", "", influence.worst_deg},
                        {"at", "", influence.position},
                        {"share_of_window", "", influence.share}});
    return rows;
}

Work build_figures(const Builds& builds, unsigned long long seed) {
    return {{"builds", "", double(builds.builds)},
            {"seed", "", double(seed)},
            {"all_select", "", builds.all_select},
            {"all_select_new_joints", "", builds.all_select_new},
            {"all_select_once_set", "", builds.all_select_set},
            {"each_selects", "", builds.each_selects},
            {"sigma_deg", "", builds.sigma_deg},
            {"first_order_sigma_deg", "", builds.first_order_sigma_deg}};
}

}  // namespace

Work linkage_figures(const LinkageResult& result) {
    Work figures{{"solved", "", solved_values(result, false)},
                 {"positions", "", position_rows(result.exact, result.positions)},
                 {"worst_margin_deg", "", result.worst_margin_deg},
                 {"worst_error_over_window", "", result.worst_normalised},
                 {"solved_ranges", "", solved_rows(result)}};
    if (result.set) figures.push_back({"set", "", setting_figures(result)});
    figures.push_back({"outside_windows", "", stretch_rows(result)});
    figures.push_back({"ends", "", end_rows(result)});
    figures.push_back({"influences", "", influence_rows(result)});
    if (result.builds) figures.push_back({"builds", "", build_figures(*result.builds, result.exact.seed)});
    figures.push_back(
        {"setting", "", Work{{"set_first", "", result.set_first}, {"rig_pin_lever", "", result.rig_lever}}});
    return figures;
}

}  // namespace fitup::calculations
