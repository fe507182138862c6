#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "calculations/clocking_plate.hpp"
#include "calculations/web_field.hpp"
#include "plan/finding.hpp"

/// Clocking: turning some patterns of a plate until most metal is left between them and the others.
namespace fitup::calculations {

/// What is to be worked out.
struct Clocking {
    std::string name, revision;
    std::string plate_file;  ///< as written
    ClockedPlate plate;
    double from_deg = 0.0, to_deg = 360.0;
    std::optional<double> wanted_mm;  ///< none: what the plate's rules warn at
};

/// A stretch of turns, in degrees.
struct TurnRange {
    double from_deg = 0.0, to_deg = 0.0;
};

/// The turn that leaves most to spare.
struct BestTurn {
    double turn_deg = 0.0;
    WebField::Metal metal;
    /// Proved: nowhere in the range is more to spare than this much above `metal.spare_mm`.
    double certain_within_mm = 0.0;
};

/// Turns are found to this; what lies between is certain, since no metal is judged by samples.
inline constexpr double clocking_exact_deg = 1e-6;
/// Ends of ranges are found to this, on the safe side.
inline constexpr double range_exact_deg = 1e-4;

/// The best turn of a range, by halving the stretches that may hold a better one.
BestTurn best_turn(const WebField& field, double from_deg, double to_deg);

/// Whether some turn leaves `spare_mm`: one that does, or how much the best surely falls short of it at
/// least.
struct Reached {
    std::optional<double> turn_deg;
    double short_by_mm = 0.0;  ///< at least; 0 where it is reached
};
Reached reach(const WebField& field, double from_deg, double to_deg, double spare_mm);

/// The stretches in which at least `spare_mm` is left everywhere.
std::vector<TurnRange> ranges_with(const WebField& field, double from_deg, double to_deg, double spare_mm);

struct ClockingPoint {
    double turn_deg = 0.0;
    double web_mm = 0.0;
    double spare_mm = 0.0;
};

/// What a pattern's `rotate` must say in the plate's file.
struct PatternTurn {
    std::string pattern;
    double rotate_deg = 0.0;
};

/// Two cuts with least to spare.
struct ClockingPair {
    std::string where;  ///< "gearbox-3, housing-5"
    std::string words;  ///< "gearbox-3 and the recess of housing-5"
    double web_mm = 0.0;
    double wanted_mm = 0.0;
};

/// What else would pass, where no turn does.
struct ClockingChange {
    std::string key;        ///< "thickness", "patterns.housing.circle.diameter"
    std::string words;      ///< "the bolt circle of housing"
    double from_mm = 0.0;   ///< as the file has it
    double to_mm = 0.0;     ///< nearest that passes
    double turn_deg = 0.0;  ///< at which it does
};

struct ClockingResult {
    BestTurn best;
    bool passes = false;
    ClockingPoint now;                  ///< as the file stands: turn 0
    std::vector<PatternTurn> patterns;  ///< at the best turn
    std::vector<ClockingPair> least;    ///< at the best turn, the first few
    /// Round the best turn, where the web keeps `flat_share` of the best's.
    TurnRange flat;
    std::vector<TurnRange> passing;  ///< every stretch of turns that passes
    std::vector<ClockingPoint> curve;
    std::vector<ClockingChange> changes;
    /// Words for each that was tried in vain: "no thickness up to 80 mm".
    std::vector<std::string> in_vain;
    plan::Findings findings;
};

inline constexpr double flat_share = 0.95;

using ClockingProgress = std::function<void(std::string_view)>;
ClockingResult work_out(const Clocking& clocking, const ClockingProgress& progress);

/// The field of a plate so changed; nothing where there is no such plate.
std::optional<WebField> field_of(const Clocking& clocking, const PlateChange& change);

/// Bolt circles and thicknesses that would pass, into `result`.
void add_changes(const Clocking& clocking, ClockingResult& result);

}  // namespace fitup::calculations
