// Rule override: the limits of the file that are in force, and what they replace.
#include <algorithm>
#include <set>

#include "base/text.hpp"
#include "rules/checks.hpp"
#include "rules/rules.hpp"
#include "rules/wording.hpp"

namespace fitup::rules {

namespace {

using plan::Finding;
using plan::Findings;

/// What a step of a limit usually is on this part: where it differs from hole to hole, from and to.
struct Usual {
    std::optional<double> least;
    std::optional<double> most;
    void take(const std::optional<double>& step) {
        if (!step) return;
        least = least ? std::min(*least, *step) : *step;
        most = most ? std::max(*most, *step) : *step;
    }
};

struct UsualLimit {
    Usual warn;
    Usual stop;
    std::string besides;  ///< what else asks for more, in words
    void take(const Limit& limit) {
        warn.take(limit.warn);
        stop.take(limit.stop);
    }
};

UsualLimit usual_of(const plan::Plan& plan, const std::string& rule) {
    UsualLimit usual;
    if (rule == "edge-distance") {
        for (const plan::Hole& hole : plan.holes) {
            if (hole.kind != plan::HoleKind::bore)
                usual.take(edge_distance_limit(plan.material.family, nominal_mm(hole)));
        }
    }
    if (rule == "thread-engagement") usual.take(engagement_limit(plan.material.family));
    if (!usual.warn.least && !usual.stop.least) usual.take(Limits().of(rule));
    if (rule == "web") usual.besides = ", or a quarter of the smaller hole's diameter where that is more";
    if (rule == "recess-floor") usual.besides = ", or half the bolt's diameter where that is more";
    if (rule == "register-slack") usual.besides = "the reading that SAE allows at the register's size";
    return usual;
}

std::string value_text(double value, const std::string& unit) {
    return short_text(value) + (unit.empty() ? "" : " " + unit);
}

std::string usual_text(const Usual& usual, const std::string& unit, const std::string& besides) {
    if (!usual.least) return besides.empty() ? "no such limit" : besides;
    std::string text = short_text(*usual.least);
    if (*usual.most > *usual.least) text += " to " + short_text(*usual.most);
    return text + (unit.empty() ? "" : " " + unit) + besides;
}

/// "warns at 1.25 d in place of 1.5 d"
std::string step_text(const char* word, const std::optional<double>& in_force, const Usual& usual,
                      const std::string& unit, const std::string& besides) {
    return std::string(word) + " at " + value_text(in_force.value_or(0.0), unit) + " in place of " +
           usual_text(usual, unit, besides);
}

/// Of several entries for one rule the last one of each step is in force.
plan::RuleOverride in_force(const Subject& subject, const std::string& rule) {
    plan::RuleOverride all;
    for (const plan::RuleOverride& entry : subject.plan().rule_overrides) {
        if (entry.rule != rule) continue;
        all.line = entry.line;
        if (entry.warn) all.warn = entry.warn;
        if (entry.stop) all.stop = entry.stop;
    }
    return all;
}

Finding change_note(const Subject& subject, const Rule& rule) {
    const plan::RuleOverride own = in_force(subject, rule.name);
    const UsualLimit usual = usual_of(subject.plan(), rule.name);
    std::vector<std::string> steps;
    if (own.warn) steps.push_back(step_text("warns", own.warn, usual.warn, rule.unit, usual.besides));
    if (own.stop) steps.push_back(step_text("stops", own.stop, usual.stop, rule.unit, ""));
    const std::string line = own.line > 0 ? "line " + std::to_string(own.line) + " of the file: " : "";
    Finding finding =
        note_of("override", rule.name,
                line + rule.name + " " + and_list(steps, steps.size()) +
                    ", by the file's own wish; take the entry out to have the usual limit back.");
    finding.value = own.warn ? own.warn : own.stop;
    finding.limit = own.warn ? usual.warn.most : usual.stop.most;
    finding.unit = rule.unit;
    return finding;
}

}  // namespace

Findings check_overrides(const Subject& subject) {
    Findings findings;
    std::set<std::string> told;
    for (const plan::RuleOverride& entry : subject.plan().rule_overrides) {
        const Rule* rule = find_rule(entry.rule);
        if (rule == nullptr || (!entry.warn && !entry.stop) || !told.insert(entry.rule).second) continue;
        findings.push_back(rule->can_be_overridden
                               ? change_note(subject, *rule)
                               : note_of("override", entry.rule,
                                         entry.rule + " can't be overridden; the file's limit is not used: "
                                                      "take the entry out."));
    }
    return findings;
}

}  // namespace fitup::rules
