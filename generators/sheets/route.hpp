#pragma once

#include <span>
#include <vector>

#include "plan/contour.hpp"

/// Short ways round a set of holes.
namespace fitup::sheets {

/// Length of the way from zero (the origin) through the stops in this order and back to zero.
double way_length_mm(std::span<const plan::Point> stops, std::span<const std::size_t> order);

/// An order of the stops with a short way from zero round all of them and back: nearest neighbour, improved
/// by turning pieces round (2-opt) and moving short pieces (Or-opt) until neither helps. Never longer than
/// the order given.
///
/// Deterministic. Cost: 2000 stops about 0.1 s.
std::vector<std::size_t> short_way_round(std::span<const plan::Point> stops);

}  // namespace fitup::sheets
