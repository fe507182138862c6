#include "rules/checks.hpp"
#include "rules/rules.hpp"

namespace fitup::rules {

namespace {

using plan::Findings;

/// A rod has no slab that the other rules could judge.
Findings judge_rod(const Subject& subject) {
    Findings findings = check_rod(subject);
    append(findings, check_overrides(subject));
    plan::sort_by_severity(findings);
    return findings;
}

}  // namespace

Findings judge(const plan::Plan& plan) {
    const Subject subject(plan);
    if (plan.rod) return judge_rod(subject);
    Findings findings = check_on_part(subject);
    append(findings, check_neighbours(subject));
    if (!plan::has_final_stop(findings)) append(findings, check_pieces(subject));
    for (const auto check : {check_edge_distance, check_rim, check_floors, check_threads, check_tools,
                             check_milling, check_registers, check_register_edges, check_patterns,
                             check_look_alikes, check_eyes, check_bends, check_figures, check_overrides})
        append(findings, check(subject));
    plan::sort_by_severity(findings);
    return findings;
}

}  // namespace fitup::rules
