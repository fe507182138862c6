#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "plan/contour.hpp"

/// Whether two patterns bolt up: the turn and shift of the second that leaves the greatest least clearance.
namespace fitup::calculations {

/// A fastener's two places: where the first pattern has it and where the second, each in its own axes.
struct FastenerPair {
    plan::Point first_mm;
    plan::Point second_mm;
    /// By how much the two may be apart once they lie on one another: half of hole less fastener.
    double slack_mm = 0.0;
};

/// A clearance that falls short by less than this is none: far below what can be made, far above rounding.
inline constexpr double bolting_exact_mm = 1e-9;

struct BoltFit {
    /// The second pattern is turned about its own origin, anticlockwise, then shifted; it then lies on the
    /// first.
    double turn_rad = 0.0;
    plan::Point shift_mm;
    /// Radial, at the fastener that has least; negative where the patterns don't bolt up.
    double least_clearance_mm = 0.0;
    /// Proved: no turn and shift whatever leaves more than this much above `least_clearance_mm`.
    double certain_within_mm = 0.0;
    std::vector<double> clearances_mm;  ///< at each fastener
    /// Fasteners that have the least clearance, so that they decide.
    std::vector<std::size_t> deciding;

    bool possible() const { return least_clearance_mm >= -bolting_exact_mm; }
};

/// The best turn and shift of all, over the whole circle of turns. Of equally good turns one near the least
/// squares' is taken.
///
/// For each turn the best shift is exact; what holds it bounds every other turn from below by one sine, and
/// the search ends when these bounds meet the best found. Construction is our own.
/// REQUIRES: at least one pair, slacks are numbers.
/// Accuracy: 1e-9 mm (`certain_within_mm` says how near). Cost: some tens of passes over the pairs.
BoltFit best_fit(std::span<const FastenerPair> pairs);

/// Whether best_fit() would be possible, found quicker: the first turn that serves, or that none can.
bool bolts_up(std::span<const FastenerPair> pairs);

/// Where a place of the second pattern comes to lie.
plan::Point laid(const BoltFit& fit, plan::Point second_mm);

/// What would make patterns bolt up that don't, each a growth of hole diameters.
struct Openings {
    double all_alike_mm = 0.0;  ///< every hole
    /// Only those that decide, all alike; where opening these leaves others that can't be served, those are
    /// opened as well.
    std::vector<std::size_t> some;
    double some_mm = 0.0;
    /// The one hole that is enough, where one is.
    std::optional<std::size_t> one;
    double one_mm = 0.0;
};

/// @param fit  of these pairs
Openings openings(std::span<const FastenerPair> pairs, const BoltFit& fit);

}  // namespace fitup::calculations
