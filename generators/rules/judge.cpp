#include <algorithm>
#include <iterator>

#include "rules/checks.hpp"
#include "rules/rules.hpp"

namespace fitup::rules {

namespace {

using plan::Finding;
using plan::Findings;

void append(Findings& all, Findings more) { std::move(more.begin(), more.end(), std::back_inserter(all)); }

bool has_final(const Findings& findings) {
    return std::any_of(findings.begin(), findings.end(),
                       [](const Finding& finding) { return finding.final; });
}

/// Final stops, stops, warnings, notes; within each in the order found.
void sort_by_severity(Findings& findings) {
    std::stable_sort(findings.begin(), findings.end(), [](const Finding& a, const Finding& b) {
        return a.final != b.final ? a.final : a.severity > b.severity;
    });
}

}  // namespace

Findings judge(const plan::Plan& plan) {
    const Subject subject(plan);
    Findings findings = check_on_part(subject);
    append(findings, check_neighbours(subject));
    if (!has_final(findings)) append(findings, check_pieces(subject));
    for (const auto check : {check_edge_distance, check_rim, check_floors, check_threads, check_tools,
                             check_registers, check_register_edges, check_patterns, check_overrides})
        append(findings, check(subject));
    sort_by_severity(findings);
    return findings;
}

}  // namespace fitup::rules
