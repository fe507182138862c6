#pragma once

#include <optional>
#include <vector>

#include "calculations/linkage_result.hpp"
#include "calculations/variations.hpp"

/// Sizes that make the worst error of all positions least (minimax).
namespace fitup::calculations {

struct Solution {
    Linkage linkage;  ///< every dimension at its value
    std::vector<double> branches;
    double worst_normalised = 0.0;
};

/// The best that many starts find (sequential quadratic programming on the epigraph form: least t with every
/// error within t windows), deterministic. The solution closes over the whole travel. Nothing where no start
/// leads to a chain that closes.
std::optional<Solution> solve(const Linkage& linkage, const LinkageProgress& progress);

/// How good a linkage is as it stands: greatest normalised error; infinite where it opens on its travel or at
/// a position.
double worst_of(const Linkage& linkage);

/// The range of one size, all others held, over which every position stays in its window.
Bounds serving_range(const Linkage& linkage, const Variation& unknown);

}  // namespace fitup::calculations
