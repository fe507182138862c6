#pragma once

#include "calculations/survey_layout.hpp"

namespace fitup::calculations {

/// Starts for a network of spans in which every point is read to its neighbours only, in axes of their own,
/// the likeliest first: rigid patches first, then all points at once, eased in space and pressed flat, from
/// one start after another until one fits every span. Empty where the spans don't hang together. The same
/// every time.
std::vector<Layout> net_layouts(const Network& network);

}  // namespace fitup::calculations
