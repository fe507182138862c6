#pragma once

#include <optional>

#include "calculations/bolts_up.hpp"

/// Patterns that bolt up while dowels and a register hold them: what locates leaves no room to shift.
namespace fitup::calculations {

struct LocatedFit {
    /// Of bolts and locators together: it is possible where all go in at once.
    BoltFit fit;
    /// By how much the locators alone don't go together, radial; 0 where they do.
    double locators_missing_mm = 0.0;
    /// Growth of every bolt hole's diameter at which all go together; none where the locators alone don't.
    std::optional<double> open_all_mm;
    /// The one bolt hole that is enough, and by how much it has to grow.
    std::optional<std::size_t> one;
    double one_mm = 0.0;
    std::optional<Odds> odds;
};

/// @param all    bolts first, then what locates (its "hole" the part around, its "fastener" what enters)
/// @param bolts  how many are bolts; the rest locates
/// REQUIRES: at least one of each.
LocatedFit located_fit(const BoltingCase& all, std::size_t bolts);

/// A stop where all do not go in at once although the bolts alone would.
plan::Findings located_findings(const BoltingCase& all, std::size_t bolts, const LocatedFit& worked,
                                const std::string& what);

/// The result object's `located`: possible, least_clearance_mm, clearances, locators, open.
plan::Work located_figures(const BoltingCase& all, std::size_t bolts, const LocatedFit& worked);

/// For people, a few lines.
std::string located_text(const BoltingCase& all, std::size_t bolts, const LocatedFit& worked,
                         const std::string& what);

}  // namespace fitup::calculations
