#pragma once

#include <optional>
#include <string>
#include <vector>

#include "plan/plan.hpp"

namespace fitup::plan {

enum class Severity { note, warn, stop };
const char* to_text(Severity severity);

/// What the shop says of a plan: a result, not an error.
struct Finding {
    std::string rule;  ///< "edge-distance"
    Severity severity = Severity::note;
    std::string where;  ///< hole or feature id, or several: "housing-3, gearbox-1"
    std::optional<double> value;
    std::optional<double> limit;
    std::string unit;     ///< of value and limit: "mm", "d", ""
    std::string message;  ///< one sentence that says what to do
    std::string source;
    std::optional<Point3> at_mm;
    /// A stop that neither `rules` nor `--despite-rules` lifts.
    bool final = false;
};

using Findings = std::vector<Finding>;

}  // namespace fitup::plan
