#include "calculations/survey_graph.hpp"

#include <limits>
#include <queue>

namespace fitup::calculations {

SpanGraph span_graph(const Network& network) {
    SpanGraph graph{{}, std::vector<std::vector<SpanGraph::Link>>(network.points)};
    for (const Observation& seen : network.seen) {
        if (seen.quantity != Quantity::span) continue;
        const int span = int(graph.spans.size());
        graph.links[std::size_t(seen.a)].push_back({seen.b, span});
        graph.links[std::size_t(seen.b)].push_back({seen.a, span});
        graph.spans.push_back(seen);
    }
    return graph;
}

std::vector<double> ways_from(const SpanGraph& graph, std::size_t point) {
    std::vector<double> ways(graph.links.size(), std::numeric_limits<double>::infinity());
    using Reached = std::pair<double, std::size_t>;
    std::priority_queue<Reached, std::vector<Reached>, std::greater<>> open;
    ways[point] = 0.0;
    open.emplace(0.0, point);
    while (!open.empty()) {
        const auto [way, here] = open.top();
        open.pop();
        if (way > ways[here]) continue;
        for (const SpanGraph::Link& link : graph.links[here]) {
            const double next = way + graph.spans[std::size_t(link.span)].value;
            double& known = ways[std::size_t(link.to)];
            if (next < known) known = next, open.emplace(next, std::size_t(link.to));
        }
    }
    return ways;
}

std::vector<int> points_around(const SpanGraph& graph, const std::vector<int>& points, int steps) {
    std::vector<char> is_in(graph.links.size(), 0);
    std::vector<int> all;
    const auto take = [&](int point) {
        if (is_in[std::size_t(point)] == 0) is_in[std::size_t(point)] = 1, all.push_back(point);
    };
    for (const int point : points) take(point);
    std::size_t done = 0;
    for (int i = 0; i < steps; ++i) {
        const std::size_t end = all.size();
        for (; done < end; ++done)
            for (const SpanGraph::Link& link : graph.links[std::size_t(all[done])]) take(link.to);
    }
    return all;
}

std::vector<int> pieces_of(const SpanGraph& graph, const std::vector<char>& without_point,
                           const std::vector<char>& without_span) {
    std::vector<int> piece(graph.links.size(), -1), open;
    int count = 0;
    for (std::size_t i = 0; i < piece.size(); ++i) {
        if (without_point[i] != 0 || piece[i] >= 0) continue;
        piece[i] = count;
        open = {int(i)};
        while (!open.empty()) {
            const int here = open.back();
            open.pop_back();
            for (const SpanGraph::Link& link : graph.links[std::size_t(here)]) {
                const auto to = std::size_t(link.to);
                const bool cut = !without_span.empty() && without_span[std::size_t(link.span)] != 0;
                if (cut || without_point[to] != 0 || piece[to] >= 0) continue;
                piece[to] = count;
                open.push_back(link.to);
            }
        }
        ++count;
    }
    return piece;
}

}  // namespace fitup::calculations
