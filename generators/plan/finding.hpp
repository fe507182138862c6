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

void append(Findings& findings, Findings more);

/// A finding without value and source.
Finding finding_of(std::string rule, Severity severity, std::string where, std::string message);
/// A finding with what was found and its limit, both in `unit`.
Finding with_value(Finding finding, double value, double limit, std::string unit);
/// A stop that nothing lifts: such a part could not exist.
Finding final_stop(std::string rule, std::string where, std::string message);
bool has_final_stop(const Findings& findings);
/// Final stops, stops, warnings, notes; within each in the order found.
void sort_by_severity(Findings& findings);

}  // namespace fitup::plan
