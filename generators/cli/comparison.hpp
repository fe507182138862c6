#pragma once

#include <optional>
#include <string>
#include <vector>

/// What differs between two files and what they come to.
namespace fitup::cli {

struct FigureChange {
    std::string key;
    std::string before;  ///< empty: not there
    std::string after;
    std::optional<double> difference;  ///< of numbers
};

struct HoleChange {
    std::string id;
    std::string change;  ///< "moved", "resized", "gone", "new" ..
    std::string before, after;
    double moved_mm = 0.0;
};

struct FindingChange {
    std::string change;  ///< "came", "went"
    std::string what;    ///< severity, rule and place
    std::string message;
};

struct ResultComparison {
    std::string before, after;         ///< files
    std::vector<FigureChange> values;  ///< of the parameter files themselves
    std::vector<HoleChange> holes;
    std::vector<FindingChange> findings;
    std::vector<FigureChange> figures;
};

std::string comparison_text(const ResultComparison& found);
std::string comparison_json(const ResultComparison& found);

}  // namespace fitup::cli
