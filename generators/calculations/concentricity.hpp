#pragma once

#include <optional>
#include <string>
#include <vector>

#include "calculations/dial.hpp"
#include "plan/finding.hpp"

/// What clearances and tolerances between two shafts add up to. Lengths in mm; an offset is the distance of
/// the two axes, a reading what an indicator carried round shows from least to most: twice the offset.
namespace fitup::calculations {

/// How a contribution was stated; what it would have to be is told in the same measure.
enum class Measure {
    clearance,  ///< on the diameter: the offset is half of it
    position,   ///< diameter of a tolerance zone: likewise
    reading,    ///< total indicator reading: likewise
    offset
};
const char* to_text(Measure measure);

struct Contribution {
    std::string name;
    Measure measure = Measure::offset;
    double least = 0.0;  ///< as stated, mm; the same as `most` but for a clearance's limits
    double most = 0.0;
    /// As it is: an error of a casting, which no closer fit of ours changes.
    bool fixed = false;
    std::string from;  ///< where it was taken from, in words; "" where the file states it
    double offset_mm() const { return measure == Measure::offset ? most : most / 2.0; }
};

struct Concentricity {
    std::string name, revision;
    plan::Units units = plan::Units::mm;
    double limit_reading_mm = 0.127;
    bool limit_stated = false;
    std::vector<Contribution> contributions;
    /// Dowels are reamed once the shafts run true, so that clearances don't decide.
    bool reamed_at_assembly = false;
    std::string plate;                ///< the file of the plate, "" without one
    std::vector<std::string> looser;  ///< matings of the plate that locate less closely than another there
    std::optional<DialReadings> bore;
    std::optional<DialReadings> face;
};

/// What is asked of one contribution.
struct ContributionResult {
    double offset_mm = 0.0;
    double of_worst_case = 0.0;
    double of_square = 0.0;  ///< share of the root-sum-square's square
    /// What it alone would have to be, in its own measure, for the worst case to meet the limit; none where
    /// even nothing would not do, or where it is fixed.
    std::optional<double> alone_to;
};

struct ConcentricityResult {
    Concentricity asked;
    double limit_offset_mm = 0.0;
    double worst_offset_mm = 0.0;
    double rss_offset_mm = 0.0;
    double fixed_offset_mm = 0.0;  ///< worst case of what can't be changed
    /// Share of assemblies over the limit, each contribution's offset normal in X and in Y with its greatest
    /// as three standard deviations.
    double share_over = 0.0;
    /// Share to which all that can be changed must come for the worst case; none where nothing would do.
    std::optional<double> all_to;
    std::vector<ContributionResult> contributions;  ///< in the file's order
    std::optional<DialResult> bore;
    std::optional<DialResult> face;
    plan::Findings findings;
    bool holds = true;
};

/// Share of assemblies within the root-sum-square under that model: 1 - exp(-9/2).
inline constexpr double share_within_rss = 0.98889;

/// Never fails: what is too much is a finding.
ConcentricityResult work_out(const Concentricity& asked);

}  // namespace fitup::calculations
