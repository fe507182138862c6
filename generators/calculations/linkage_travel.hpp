#pragma once

#include <optional>
#include <vector>

#include "calculations/chain.hpp"
#include "calculations/linkage_result.hpp"

/// What happens between the named positions.
namespace fitup::calculations {

/// Where a chain opens on its travel, counted from the input nearest zero outwards.
struct Opening {
    double input_deg = 0.0;  ///< the last input at which it closes
    double gap_mm = 0.0;  ///< by how much the rod misses at the end of the travel on that side, at its worst
    std::size_t rod = 0;
    bool too_short = true;
};
std::vector<Opening> openings_of(const Linkage& linkage, const Chain& chain);

/// The output over the input's travel, evenly spaced; where the chain is open there is no point.
std::vector<CurvePoint> curve_of(const Linkage& linkage, const Chain& chain);

/// Stretches of the travel in which the output is in no position's window.
std::vector<Stretch> outside_windows(const Linkage& linkage, const Chain& chain);

/// A window that the output enters on its way between two other positions.
struct Intruder {
    std::string from, to;  ///< neighbouring positions
    std::string position;  ///< whose window is entered
    double input_deg = 0.0;
};
std::vector<Intruder> intruders_of(const Linkage& linkage, const Chain& chain);

/// Both ends of the travel: what is left after the outermost positions, and which stop comes first.
std::vector<EndResult> ends_of(const Linkage& linkage, const Chain& chain);

}  // namespace fitup::calculations
