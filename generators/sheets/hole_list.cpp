#include "sheets/hole_list.hpp"

#include <algorithm>
#include <tuple>

#include "sheets/hole_operations.hpp"
#include "sheets/route.hpp"

namespace fitup::sheets {

namespace {

bool is_earlier(const Operation& a, const Operation& b) {
    // Side B first: it lies as the plan and the drawing do.
    const auto key = [](const Operation& o) {
        return std::make_tuple(o.line.side == plan::Side::A, o.stage, o.line.diameter_mm);
    };
    if (key(a) != key(b)) return key(a) < key(b);
    return a.line.tool < b.line.tool;
}

bool has_same_tool(const Operation& a, const Operation& b) {
    return a.line.side == b.line.side && a.line.tool == b.line.tool;
}

/// Appends the lines of one tool in the order of a short way round.
void append_round(std::span<const Operation> group, std::vector<HoleLine>& lines) {
    std::vector<plan::Point> stops;
    for (const Operation& operation : group) stops.push_back({operation.line.x_mm, operation.line.y_mm});
    plan::Point last;
    for (const std::size_t stop : short_way_round(stops)) {
        lines.push_back(group[stop].line);
        lines.back().from_last_mm = plan::distance_mm(last, stops[stop]);
        last = stops[stop];
    }
}

}  // namespace

std::vector<HoleLine> hole_lines(const plan::Plan& plan) {
    std::vector<Operation> all;
    for (const plan::Hole& hole : plan.holes) {
        const std::vector<Operation> own = operations(plan, hole);
        all.insert(all.end(), own.begin(), own.end());
    }
    std::stable_sort(all.begin(), all.end(), is_earlier);
    std::vector<HoleLine> lines;
    for (auto first = all.begin(); first != all.end();) {
        const auto end =
            std::find_if(first, all.end(), [&](const Operation& o) { return !has_same_tool(*first, o); });
        append_round({first, end}, lines);
        first = end;
    }
    return lines;
}

}  // namespace fitup::sheets
