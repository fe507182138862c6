#include "calculations/stack_findings.hpp"

#include <algorithm>

#include "base/both_units.hpp"
#include "base/comma_list.hpp"
#include "base/text.hpp"

namespace fitup::calculations {

namespace {

using plan::Finding;
using plan::Severity;

/// Short of its window by less than this is rounding.
constexpr double equal_mm = 1e-9;

std::string percent(double share) { return short_text(100.0 * share, 1) + " %"; }

std::string demand_text(const StackResult& result) {
    const StackExclusion& pair = *result.solution->exclusion;
    const std::string link = result.stack.links[result.solution->link].name;
    const std::string& lower = result.stack.closings[pair.at_least].name;
    const std::string& upper = result.stack.closings[pair.at_most].name;
    if (pair.at_least == pair.at_most)
        return "no size of " + link + " serves: the tolerances in " + lower +
               " are wider than its window by " + both_units(pair.by_mm());
    return "no size of " + link + " serves: " + lower + " asks for at least " + both_units(pair.least_mm) +
           ", " + upper + " for at most " + both_units(pair.most_mm) + "; they exclude each other by " +
           both_units(pair.by_mm());
}

std::string cure_text(const StackResult& result) {
    const StackExclusion& pair = *result.solution->exclusion;
    if (!pair.tolerances_to)
        return "; no tolerance cures that: even with exact sizes " + both_units(pair.exact_by_mm) +
               " are missing, so a window or a size must give way";
    std::string text = "; it would do to bring all their tolerances to " + percent(*pair.tolerances_to);
    if (pair.link)
        text += ", or " + result.stack.links[*pair.link].name + " alone to " +
                both_units(pair.link_spread_mm) + " in all";
    if (const auto& range = result.solution->serves_statistical)
        text += "; by root-sum-square sizes from " + both_units(range->least_mm) + " to " +
                both_units(range->most_mm) + " serve";
    return text;
}

void add_exclusion(const StackResult& result, plan::Findings& findings) {
    if (!result.solution || !result.solution->exclusion) return;
    const StackExclusion& pair = *result.solution->exclusion;
    const std::string& lower = result.stack.closings[pair.at_least].name;
    const std::string& upper = result.stack.closings[pair.at_most].name;
    findings.push_back(with_value(
        plan::finding_of("stack-serves", Severity::stop, lower == upper ? lower : lower + ", " + upper,
                         demand_text(result) + cure_text(result)),
        pair.most_mm, pair.least_mm, "mm"));
}

/// Where no size serves, the closings through the open link have been told of already.
bool is_told(const StackResult& result, std::size_t closing) {
    if (!result.solution || result.solution->serves) return false;
    const auto& demands = result.solution->demands;
    return std::any_of(demands.begin(), demands.end(),
                       [closing](const ClosingDemand& demand) { return demand.closing == closing; });
}

void add_window(const StackResult& result, std::size_t index, plan::Findings& findings) {
    const ClosingResult& closing = result.closings[index];
    if (!closing.room || is_told(result, index)) return;
    const Interval& window = *result.stack.closings[index].between;
    for (const bool low : {true, false}) {
        const double room_mm = low ? closing.room->least_mm : closing.room->most_mm;
        if (room_mm >= -equal_mm) continue;
        const double value_mm = low ? closing.worst_case.least_mm : closing.worst_case.most_mm;
        const double limit_mm = low ? window.least_mm : window.most_mm;
        std::string message = "at worst it comes to " + both_units(value_mm) + ", " + both_units(-room_mm) +
                              (low ? " under" : " over") + " its window; " +
                              fixed_text(100.0 * *closing.out_of_window, 3) +
                              " % of assemblies would lie outside, sizes normally distributed";
        if (!closing.shares.empty() && closing.shares.front().spread_mm > 0.0)
            message += "; " + result.stack.links[closing.shares.front().link].name + " adds most to it";
        findings.push_back(with_value(plan::finding_of("stack-window", Severity::stop,
                                                       result.stack.closings[index].name, std::move(message)),
                                      value_mm, limit_mm, "mm"));
    }
}

void add_notes(const StackResult& result, plan::Findings& findings) {
    std::vector<std::string> exact, unused;
    for (std::size_t link = 0; link < result.stack.links.size(); ++link) {
        const StackLink& one = result.stack.links[link];
        const bool is_used = std::any_of(
            result.stack.closings.begin(), result.stack.closings.end(), [link](const auto& closing) {
                return std::any_of(closing.through.begin(), closing.through.end(),
                                   [link](const StackTerm& term) { return term.link == link; });
            });
        if (!is_used) unused.push_back(one.name);
        if (is_used && !one.has_tolerance) exact.push_back(one.name);
    }
    if (!exact.empty())
        findings.push_back(plan::finding_of("stack-tolerance", Severity::note, comma_list(exact),
                                            "no tolerance is stated, so it counts as exact; nothing is"));
    if (!unused.empty())
        findings.push_back(
            plan::finding_of("stack-unused", Severity::note, comma_list(unused), "is in no closing"));
}

}  // namespace

plan::Findings stack_findings(const StackResult& result) {
    plan::Findings findings;
    add_exclusion(result, findings);
    for (std::size_t i = 0; i < result.closings.size(); ++i) add_window(result, i, findings);
    add_notes(result, findings);
    plan::sort_by_severity(findings);
    return findings;
}

}  // namespace fitup::calculations
