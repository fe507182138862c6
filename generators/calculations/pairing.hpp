#pragma once

#include <optional>
#include <span>
#include <vector>

#include "calculations/bolting.hpp"

namespace fitup::calculations {

/// Which place of the second pattern belongs to which of the first, when their numbers don't say.
struct Pairing {
    std::vector<std::size_t> second_of;  ///< for each place of the first pattern
    bool mirrored = false;               ///< the second pattern's X changed in sign before it is turned
    BoltFit fit;
};

/// The pairing that bolts up best, found by laying two places far apart of the first pattern on every two of
/// the second that are about as far apart and taking each place's nearest; of equally good ones the one
/// nearest to equal numbers.
/// @param slacks_mm  of each place of `first`
/// @returns nothing where the counts differ or no laying gives every place one of its own.
/// Cost: n^4 at worst, n^3 for patterns without symmetry.
std::optional<Pairing> find_pairing(std::span<const plan::Point> first, std::span<const plan::Point> second,
                                    std::span<const double> slacks_mm, bool mirrored);

/// Pairs in the order of both lists.
std::vector<FastenerPair> paired(std::span<const plan::Point> first, std::span<const plan::Point> second,
                                 std::span<const double> slacks_mm);

/// Most places that a pairing is sought for.
inline constexpr std::size_t most_paired = 200;

}  // namespace fitup::calculations
