#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "parameters/length.hpp"

/// Trying one file at many values: which values, and which of them passes with the least change.
namespace fitup::calculations {

/// The values that one key takes.
struct Ladder {
    std::string key;
    std::vector<double> values;  ///< in the file's units
    double step = 0.0;           ///< between neighbours, over 0
};

/// Most candidates of a run.
inline constexpr std::size_t most_candidates = 100'000;

/// Reads "KEY=FROM:TO:STEP", both ends included (the last step may be shorter, as TO is met). Numbers are in
/// the file's units; "8 mm" and "3/8 in" may stand as well.
/// @returns the ladder, or what is wrong with the text
std::variant<Ladder, std::string> read_ladder(std::string_view text, parameters::Units units);

/// Every combination of the ladders' values, the last ladder's running fastest.
std::vector<std::vector<double>> combinations(std::span<const Ladder> ladders);

/// One candidate as it came out.
struct TrialRow {
    std::vector<double> values;  ///< one a ladder
    bool passes = false;
    std::string result;  ///< "passes", or the first thing that stops it
    std::vector<std::pair<std::string, double>> figures;
};

/// The passing row whose values differ least from the file's own, in steps summed over the keys; of several
/// alike the first.
std::optional<std::size_t> least_change(std::span<const TrialRow> rows, std::span<const double> own,
                                        std::span<const Ladder> ladders);

/// Runs of passing values of a single key: "from 6 to 12".
struct PassingRun {
    double from = 0.0, to = 0.0;
};
std::vector<PassingRun> passing_runs(std::span<const TrialRow> rows);

/// Names of figures that differ between rows, or that are there to be looked at anyway, in order.
std::vector<std::string> telling_figures(std::span<const TrialRow> rows);

/// A row's figure of that name.
std::optional<double> figure_of(const TrialRow& row, std::string_view name);

}  // namespace fitup::calculations
