#include "calculations/stack_figures.hpp"

namespace fitup::calculations {

namespace {

using plan::Work;

std::vector<double> pair(const Interval& interval) { return {interval.least_mm, interval.most_mm}; }

/// Every link's size where the closing is least, or most.
Work extreme_row(const Stack& stack, const Closing& closing, bool least) {
    Work row;
    for (const StackTerm& term : closing.through) {
        const StackLink& link = stack.links[term.link];
        row.push_back({link.name, "", extreme_size_mm(link, term.sign, least)});
    }
    return row;
}

std::vector<Work> share_rows(const Stack& stack, const ClosingResult& closing) {
    std::vector<Work> rows;
    for (const StackShare& share : closing.shares)
        rows.push_back({{"link", "", stack.links[share.link].name},
                        {"spread_mm", "", share.spread_mm},
                        {"of_worst_case", "", share.of_worst_case},
                        {"of_variance", "", share.of_variance}});
    return rows;
}

Work closing_row(const Stack& stack, const Closing& closing, const ClosingResult& result) {
    Work row{{"name", "", closing.name},
             {"worst_case", "", pair(result.worst_case)},
             {"statistical", "", pair(result.statistical)},
             {"nominal_mm", "", result.nominal_mm},
             {"mean_mm", "", result.mean_mm},
             {"sigma_mm", "", result.sigma_mm}};
    if (closing.between) {
        row.push_back({"between", "", pair(*closing.between)});
        row.push_back({"room_mm", "", pair(*result.room)});
        row.push_back({"share_out_of_window", "", *result.out_of_window});
    }
    row.push_back({"extremes_mm", "",
                   Work{{"least", "", extreme_row(stack, closing, true)},
                        {"most", "", extreme_row(stack, closing, false)}}});
    row.push_back({"contributions", "", share_rows(stack, result)});
    return row;
}

std::vector<Work> demand_rows(const StackResult& result) {
    std::vector<Work> rows;
    for (const ClosingDemand& demand : result.solution->demands)
        rows.push_back({{"closing", "", result.stack.closings[demand.closing].name},
                        {"worst_case", "", pair(demand.worst_case)},
                        {"statistical", "", pair(demand.statistical)}});
    return rows;
}

Work exclusion_figures(const StackResult& result) {
    const StackExclusion& exclusion = *result.solution->exclusion;
    Work figures{{"at_least_for", "", result.stack.closings[exclusion.at_least].name},
                 {"at_least_mm", "", exclusion.least_mm},
                 {"at_most_for", "", result.stack.closings[exclusion.at_most].name},
                 {"at_most_mm", "", exclusion.most_mm},
                 {"by_mm", "", exclusion.by_mm()}};
    if (exclusion.tolerances_to) figures.push_back({"tolerances_to_share", "", *exclusion.tolerances_to});
    if (exclusion.link) {
        figures.push_back({"or_link", "", result.stack.links[*exclusion.link].name});
        figures.push_back({"or_link_spread_mm", "", exclusion.link_spread_mm});
    }
    return figures;
}

void add_solution(const StackResult& result, Work& figures) {
    const StackSolution& solution = *result.solution;
    const std::string& link = result.stack.links[solution.link].name;
    Work row{{"key", "", link}};
    if (solution.serves) row.push_back({"serves", "", pair(*solution.serves)});
    if (solution.serves_statistical)
        row.push_back({"serves_statistical", "", pair(*solution.serves_statistical)});
    row.push_back({"demands", "", demand_rows(result)});
    figures.push_back({"solved_ranges", "", std::vector<Work>{std::move(row)}});
    if (solution.exclusion) {
        figures.push_back({"nearest", "", Work{{link, "", solution.value_mm}}});
        figures.push_back({"exclusion", "", exclusion_figures(result)});
    }
}

}  // namespace

Work stack_figures(const StackResult& result) {
    Work solved;
    if (result.solution && result.solution->serves)
        solved.push_back({result.stack.links[result.solution->link].name, "", result.solution->value_mm});
    std::vector<Work> closings;
    for (std::size_t i = 0; i < result.closings.size(); ++i)
        closings.push_back(closing_row(result.stack, result.stack.closings[i], result.closings[i]));
    Work figures{{"solved", "", std::move(solved)}, {"closes", "", std::move(closings)}};
    if (result.closings.size() == 1) {
        figures.push_back({"worst_case", "", pair(result.closings.front().worst_case)});
        figures.push_back({"statistical", "", pair(result.closings.front().statistical)});
    }
    if (result.solution) add_solution(result, figures);
    return figures;
}

}  // namespace fitup::calculations
