#pragma once

#include <optional>
#include <string>
#include <vector>

#include "calculations/bolting_odds.hpp"
#include "calculations/pairing.hpp"
#include "calculations/position_tolerance.hpp"
#include "plan/finding.hpp"
#include "plan/work.hpp"

namespace fitup::calculations {

/// Two patterns that are to bolt up, with holes and fasteners.
struct BoltingCase {
    std::vector<std::string> ids;  ///< of each fastener, as people know them
    std::vector<plan::Point> first_mm;
    std::vector<plan::Point> second_mm;
    std::vector<double> holes_mm;      ///< diameters
    std::vector<double> fasteners_mm;  ///< diameters
    Fastening fastening = Fastening::fixed;
    Doubt doubt;
    plan::Units units = plan::Units::mm;  ///< of what people are told
};

/// Whether they do, and what would help.
struct BoltsUp {
    BoltFit fit;
    Openings openings;  ///< where they don't
    /// How likely, where something is not exactly known.
    std::optional<Odds> odds;
    /// Where equal numbers don't bolt up: the numbering that does.
    std::optional<std::vector<std::size_t>> other_order;
    /// The second pattern's mirror image would bolt up.
    bool fits_mirrored = false;
    /// Of all holes alike: the diameter at which they just bolt up; none where holes differ.
    std::optional<double> hole_that_would_do_mm;
    /// Zone that each part's holes may have after ASME Y14.5; the least of all fasteners.
    double position_tolerance_mm = 0.0;
};

/// REQUIRES: lists of one length, at least one fastener.
BoltsUp bolt_up(const BoltingCase& one);

/// The result object's `bolts_up`: possible, least_clearance_mm, shift_mm, turn_deg, clearances, binding,
/// hole_that_would_do_mm, probability and so on.
plan::Work bolts_up_figures(const BoltingCase& one, const BoltsUp& worked);

/// A stop where the patterns don't bolt up, which fasteners bind, by how much, and what would do; a warning
/// where chance has a say.
/// @param what  "the pattern gearbox of plate.json"
plan::Findings bolts_up_findings(const BoltingCase& one, const BoltsUp& worked, const std::string& what);

/// For people, a few lines.
std::string bolts_up_text(const BoltingCase& one, const BoltsUp& worked, const std::string& what);

}  // namespace fitup::calculations
