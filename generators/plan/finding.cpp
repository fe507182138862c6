#include "plan/finding.hpp"

#include <algorithm>
#include <iterator>

namespace fitup::plan {

const char* to_text(Severity severity) {
    switch (severity) {
        case Severity::note:
            return "note";
        case Severity::warn:
            return "warn";
        case Severity::stop:
            return "stop";
    }
    return "";
}

void append(Findings& findings, Findings more) {
    std::move(more.begin(), more.end(), std::back_inserter(findings));
}

Finding finding_of(std::string rule, Severity severity, std::string where, std::string message) {
    Finding finding;
    finding.rule = std::move(rule);
    finding.severity = severity;
    finding.where = std::move(where);
    finding.message = std::move(message);
    return finding;
}

Finding with_value(Finding finding, double value, double limit, std::string unit) {
    finding.value = value;
    finding.limit = limit;
    finding.unit = std::move(unit);
    return finding;
}

Finding final_stop(std::string rule, std::string where, std::string message) {
    Finding finding = finding_of(std::move(rule), Severity::stop, std::move(where), std::move(message));
    finding.source = "needs no source: the part would not exist";
    finding.final = true;
    return finding;
}

bool has_final_stop(const Findings& findings) {
    return std::any_of(findings.begin(), findings.end(),
                       [](const Finding& finding) { return finding.final; });
}

void sort_by_severity(Findings& findings) {
    std::stable_sort(findings.begin(), findings.end(), [](const Finding& a, const Finding& b) {
        return a.final != b.final ? a.final : a.severity > b.severity;
    });
}

}  // namespace fitup::plan
