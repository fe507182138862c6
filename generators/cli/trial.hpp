#pragma once

#include <string>
#include <vector>

#include "calculations/trial.hpp"
#include "cli/calculation.hpp"
#include "plan/finding.hpp"

/// One run of `fitup try`.
namespace fitup::cli {

/// A candidate with what the shop says of it.
struct Candidate {
    calculations::TrialRow row;
    plan::Findings findings;
};

struct Trial {
    std::string file;
    std::string name;  ///< the part's or calculation's own, for the files' names
    std::vector<calculations::Ladder> ladders;
    std::vector<double> own;  ///< the file's own values
    std::vector<Candidate> candidates;
    Candidate as_it_stands;
    std::optional<std::size_t> best;  ///< least change that passes
    std::vector<Picture> pictures;
    std::vector<exchange::MadeFile> files;
};

/// The candidates' rows, in their order.
std::vector<calculations::TrialRow> rows_of(const Trial& trial);

std::string trial_text(const Trial& trial);
std::string trial_json(const Trial& trial);

}  // namespace fitup::cli
