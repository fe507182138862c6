#pragma once

#include "calculations/survey_graph.hpp"

/// Pieces of an arrangement that lie folded over.
namespace fitup::calculations {

/// Turns pieces over, and puts single points to where their spans meet, as long as the spans fit the better
/// for it.
std::vector<plan::Point> folds_mended(const SpanGraph& graph, std::vector<plan::Point> at);

/// Other arrangements that the spans may fit as well, the likeliest first: pieces turned over lines near
/// which all points lie that join them to the rest, and single points over the line through two that they are
/// read to. Not settled; at most so many.
std::vector<std::vector<plan::Point>> folds_of(const SpanGraph& graph, const std::vector<plan::Point>& at,
                                               std::size_t most);

}  // namespace fitup::calculations
