#pragma once

#include "calculations/survey_graph.hpp"

/// Pieces of a network in which every point's place follows from three others or more, without a choice.
namespace fitup::calculations {

/// Places of some points, in axes of their own.
struct Patch {
    std::vector<int> points;
    std::vector<plan::Point> at_mm;  ///< one each
};

/// Patches grown from triangles that close, the largest first. Every triangle of spans that is wide enough to
/// build on lies in one of them. Mirrored or not as chance has it.
std::vector<Patch> patches_of(const SpanGraph& graph);

/// The graph with lengths that a patch gives between its points as further spans.
SpanGraph stiffened(const SpanGraph& graph, const std::vector<Patch>& patches);

}  // namespace fitup::calculations
