#pragma once

#include <cstdint>
#include <vector>

#include "exchange/facets.hpp"

namespace fitup::exchange {

/// Folds parallel to each other, each sharing a facet with the next: what is left of a prismatic wall in a
/// mesh.
struct Chain {
    std::vector<std::uint32_t> folds;
    /// Facet k lies between folds k and k + 1; in a ring the last lies between the last fold and the first.
    std::vector<std::uint32_t> facets;
    /// Beyond the first and the last fold of a chain that is no ring.
    std::uint32_t facet_before = 0;
    std::uint32_t facet_after = 0;
    bool is_ring = false;
};

/// Cost: linear in folds.
std::vector<Chain> chains_of(const Facets& facets);

/// A circle through points of a plane, and how far they are off it.
struct Arc {
    std::size_t first = 0;  ///< points first to first + count - 1, counted on beyond the end of a ring
    std::size_t count = 0;
    plan::Point centre;
    double radius_mm = 0.0;
    double widest_step_rad = 0.0;
    bool is_full = false;
};

/// The arcs in a line of points (or a ring of them), as far as points allow to tell: at least four points on
/// one circle, no step over 50 degrees.
/// @param rounding_mm  how far each coordinate may be off
std::vector<Arc> arcs_of(const std::vector<plan::Point>& points, bool is_ring, double rounding_mm);

}  // namespace fitup::exchange
