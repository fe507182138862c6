#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "calculations/located.hpp"
#include "plan/plan.hpp"

/// A finished plate as it was measured, against its plan and against the castings.
namespace fitup::calculations {

/// One of the plate's patterns and what it must bolt to.
struct AsMadeCasting {
    std::string pattern;
    std::string words;    ///< "gearbox as measured (gearbox-face.result.json)", "housing as drawn"
    BoltingCase bolting;  ///< first: the plate as measured; second: the casting
    /// The same bolts and behind them what locates the casting: dowels, a register or bore. Empty: nothing is
    /// said to.
    BoltingCase located = {};
    /// The casting's centre in its own axes, where it is known.
    std::optional<plan::Point> centre_mm = {};
};

struct AsMade {
    std::string name, revision;
    std::string plate_file;
    plan::Units units = plan::Units::mm;
    /// Every measured hole: its place on the plan, and as measured, both in the plate's axes and the
    /// survey's.
    std::vector<std::string> ids;
    std::vector<plan::Point> drawn_mm;
    std::vector<plan::Point> measured_mm;
    std::vector<double> zone_mm;  ///< position tolerance's diameter; 0 where the hole's use gives none
    std::vector<AsMadeCasting> castings;
};

/// Where a hole is off, in the plate's axes: measured less drawn, the plate laid on its plan so that the sum
/// of distances is least and wrong holes stand out.
struct HoleOff {
    std::string id;
    plan::Point drawn_mm;
    plan::Point by_mm;
    double distance_mm = 0.0;
    double zone_mm = 0.0;
    /// Of its position tolerance; of all holes where any laying brings all within theirs.
    bool within_zone = true;
};

/// Two castings on the plate, each as it was laid: how far their centres are apart.
struct OutOfLine {
    std::array<std::size_t, 2> castings{};
    double offset_mm = 0.0;
};

struct AsMadeResult {
    std::vector<HoleOff> holes;
    double worst_mm = 0.0;
    std::vector<BoltsUp> castings;  ///< in the order of the input's
    std::vector<std::optional<LocatedFit>> located;
    std::optional<OutOfLine> out_of_line;  ///< the worst two; none where fewer than two centres are known
    plan::Findings findings;
    bool holds = true;
};

AsMadeResult work_out(const AsMade& made);

/// The result object's own keys: possible, worst_off_mm, holes, castings.
plan::Work as_made_figures(const AsMade& made, const AsMadeResult& result);

}  // namespace fitup::calculations
