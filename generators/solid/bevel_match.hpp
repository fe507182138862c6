#pragma once

#include <optional>
#include <vector>

#include "solid/rims.hpp"

namespace fitup::solid {

/// A piece of a bevel between two paths: a track of each, or of one alone where it narrows to a corner of the
/// other. Corners are those where the piece starts, going along the contours.
struct BevelPiece {
    std::optional<std::size_t> outer_track;
    std::optional<std::size_t> inner_track;
    std::size_t outer_corner = 0;
    std::size_t inner_corner = 0;
};

/// Pairs the edges of a path with those of its inset: lines with parallel lines, arcs with arcs about the
/// same centre, an arc with the corner it rounds or shrinks to. Nothing where the two are no such pair.
std::vector<BevelPiece> match_bevel(const Rims& rims, std::size_t outer, std::size_t inner);

}  // namespace fitup::solid
