#pragma once

#include <vector>

#include "calculations/survey_network.hpp"

/// A network's spans as a graph: which points are measured to which. Lengths in mm.
namespace fitup::calculations {

struct SpanGraph {
    struct Link {
        int to = -1;
        int span = -1;  ///< index into `spans`
    };
    std::vector<Observation> spans;
    std::vector<std::vector<Link>> links;  ///< of each point
};

SpanGraph span_graph(const Network& network);

/// Shortest way along spans from a point to every other; infinite where none leads there.
std::vector<double> ways_from(const SpanGraph& graph, std::size_t point);

/// Points that are some steps of a span or less from any of these.
std::vector<int> points_around(const SpanGraph& graph, const std::vector<int>& points, int steps);

/// The number of the piece that each point belongs to once some points and spans are taken away; -1 for a
/// point that is. Pieces count from 0.
/// @param without_point, without_span  nonzero for what is taken away; the second may be empty
std::vector<int> pieces_of(const SpanGraph& graph, const std::vector<char>& without_point,
                           const std::vector<char>& without_span);

}  // namespace fitup::calculations
