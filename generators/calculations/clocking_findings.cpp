#include "calculations/clocking_findings.hpp"

#include <algorithm>
#include <array>

#include "base/text.hpp"
#include "rules/rules.hpp"

namespace fitup::calculations {

namespace {

using plan::Finding;
using plan::Severity;

/// Rules whose answer a turn can change.
constexpr std::array<std::string_view, 10> rules_of_place{
    "web",           "holes-meeting", "doubled-hole", "recess-floor",      "hole-floor",
    "edge-distance", "rim",           "off-part",     "thread-engagement", "register-cut"};

std::string mm(double value) { return short_text(value, 3) + " mm"; }

Finding nothing_passes(const ClockingResult& result) {
    const ClockingPair& worst = result.least.front();
    Finding finding = plan::finding_of("clocking", Severity::stop, worst.where,
                                       "no turn passes: at the best, " + fixed_text(result.best.turn_deg, 2) +
                                           " degrees, " + mm(worst.web_mm) + " is left between " +
                                           worst.words + ", wanted " + mm(worst.wanted_mm));
    finding.value = worst.web_mm;
    finding.limit = worst.wanted_mm;
    finding.unit = "mm";
    return finding;
}

/// The plate turned so, judged as `check` would: whatever concerns holes that turned and is new or worse
/// there. That it passes here and there alike is what makes the two agree.
void add_rules(const Clocking& clocking, const ClockingResult& result, plan::Findings& findings) {
    const auto turned = clocking.plate.plan({result.best.turn_deg, {}, {}});
    if (!turned) return;
    for (Finding& finding : rules::judge(*turned)) {
        const bool is_of_place =
            std::find(rules_of_place.begin(), rules_of_place.end(), finding.rule) != rules_of_place.end();
        const bool is_of_turned =
            std::any_of(result.patterns.begin(), result.patterns.end(), [&](const PatternTurn& one) {
                return finding.where.find(one.pattern + "-") != std::string::npos;
            });
        if (!is_of_place || !is_of_turned || finding.severity == Severity::note) continue;
        finding.message = "turned so, " + finding.message;
        // The clocking's own answer is what it was asked for; the plate's rules warn beside it.
        finding.severity = Severity::warn;
        findings.push_back(std::move(finding));
    }
}

}  // namespace

plan::Findings clocking_findings(const Clocking& clocking, const ClockingResult& result) {
    plan::Findings findings;
    if (!result.passes && !result.least.empty()) findings.push_back(nothing_passes(result));
    add_rules(clocking, result, findings);
    plan::sort_by_severity(findings);
    return findings;
}

}  // namespace fitup::calculations
