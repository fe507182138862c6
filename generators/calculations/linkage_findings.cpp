#include "calculations/linkage_findings.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "calculations/linkage_travel.hpp"

namespace fitup::calculations {

namespace {

using plan::Finding;
using plan::Severity;

/// A rod that stands nearer than this to its arm turns it poorly: square at mid travel and within 45 degrees
/// of that (trade and handbooks).
constexpr double least_transmission_deg = 45.0;

std::string deg(double value) { return short_text(value, 2) + " degrees"; }

void add_openings(const LinkageResult& result, const Chain& chain, plan::Findings& findings) {
    for (const Opening& opening : openings_of(result.exact, chain)) {
        const std::string& rod = result.exact.rods[opening.rod].name;
        Finding one = plan::finding_of(
            "chain-closes", Severity::stop, rod,
            "the chain opens at an input of " + deg(opening.input_deg) + ": " + rod +
                (opening.too_short ? " is too short, in the end by " : " is too long, in the end by ") +
                short_text(opening.gap_mm, 3) + " mm");
        findings.push_back(with_value(std::move(one), opening.gap_mm, 0.0, "mm"));
    }
}

void add_verdicts(const LinkageResult& result, plan::Findings& findings) {
    for (const PositionResult& position : result.positions) {
        if (position.verdict == Verdict::selects || position.verdict == Verdict::cannot_close) continue;
        const bool stops = position.verdict == Verdict::falls_between;
        const double play_deg = (stops ? position.lost_new_deg : position.lost_worn_deg) / 2.0;
        std::string message = "stands " + deg(std::abs(position.error_deg)) +
                              (position.error_deg < 0.0 ? " under" : " over") + " where it should; margin " +
                              deg(position.margin_deg) + ", " + (stops ? "new" : "worn") + " joints take " +
                              deg(play_deg) + (stops ? "; it falls " : "; worn it falls ") +
                              position.neighbours;
        findings.push_back(
            with_value(plan::finding_of("position-selects", stops ? Severity::stop : Severity::warn,
                                        position.name, std::move(message)),
                       position.margin_deg - play_deg, 0.0, "deg"));
    }
}

void add_intruders(const LinkageResult& result, const Chain& chain, plan::Findings& findings) {
    for (const Intruder& intruder : intruders_of(result.exact, chain))
        findings.push_back(plan::finding_of("travel-order", Severity::stop, intruder.position,
                                            "between " + intruder.from + " and " + intruder.to +
                                                " the selector passes through " + intruder.position +
                                                ", at an input of " + deg(intruder.input_deg)));
}

/// The worst of a figure over all positions, at each rod.
template <typename Figure>
std::pair<double, std::string> worst_over(const LinkageResult& result, Figure figure) {
    std::pair<double, std::string> worst{-1.0, ""};
    for (const PositionResult& position : result.positions) {
        if (position.gap_mm > 0.0) continue;
        const double value = figure(position);
        if (value > worst.first) worst = {value, position.name};
    }
    return worst;
}

void add_joints(const LinkageResult& result, plan::Findings& findings) {
    const Linkage& linkage = result.exact;
    const double limit_deg = linkage.joint_angle_limit.degrees();
    for (std::size_t i = 0; i < linkage.rods.size(); ++i) {
        for (const bool first : {true, false}) {
            const auto [tilt_deg, position] = worst_over(result, [&](const PositionResult& one) {
                return first ? one.joints[i].first_deg : one.joints[i].last_deg;
            });
            if (tilt_deg <= limit_deg) continue;
            const std::string& lever = linkage.levers[i + (first ? 0 : 1)].name;
            Finding one =
                plan::finding_of("joint-angle", Severity::warn, linkage.rods[i].name + " at " + lever,
                                 "the rod tilts " + deg(tilt_deg) + " out of the plane of " + lever + " at " +
                                     position + "; the joint may bind");
            one.source = "DIN 71802: 18 degrees, 15 with safety catch, as printed; unverified";
            findings.push_back(with_value(std::move(one), tilt_deg, limit_deg, "deg"));
        }
    }
}

void add_transmission(const LinkageResult& result, plan::Findings& findings) {
    for (std::size_t i = 0; i < result.exact.rods.size(); ++i) {
        const auto [off_square_deg, position] = worst_over(
            result, [&](const PositionResult& one) { return std::abs(90.0 - one.transmission_deg[i]); });
        if (off_square_deg <= 90.0 - least_transmission_deg) continue;
        Finding one = plan::finding_of(
            "transmission-angle", Severity::warn, result.exact.rods[i].name,
            "at " + position + " the rod stands only " + deg(90.0 - off_square_deg) + " off the arm of " +
                result.exact.levers[i + 1].name + "; square at mid travel serves best");
        one.source = "handbooks and trade: swing within 45 degrees of square";
        findings.push_back(with_value(std::move(one), 90.0 - off_square_deg, least_transmission_deg, "deg"));
    }
}

void add_ends(const LinkageResult& result, plan::Findings& findings) {
    for (const EndResult& end : result.ends) {
        const bool is_good = end.verdict.starts_with("the lever's stop comes after");
        if (is_good) continue;
        Finding one =
            plan::finding_of("stops-meet", Severity::warn, end.position,
                             "at the lever's stop, " + deg(end.input_stop_deg) + ": " + end.verdict +
                                 "; the selector's own detent decides, the lever's stop must come just after "
                                 "the selector is home");
        one.source = "trade manuals";
        findings.push_back(std::move(one));
    }
}

void add_threads(const LinkageResult& result, plan::Findings& findings) {
    if (!result.set) return;
    for (const RodSetting& rod : result.set->rods) {
        const Rod& described = *std::find_if(result.exact.rods.begin(), result.exact.rods.end(),
                                             [&](const Rod& one) { return one.name == rod.rod; });
        if (!described.adjust) continue;
        const double left_mm = std::min(rod.left_shorter_mm, rod.left_longer_mm);
        const double turn_mm = described.adjust->step_mm() / described.adjust->step_turns;
        if (left_mm >= turn_mm) continue;
        findings.push_back(
            with_value(plan::finding_of(
                           "adjustment-left", Severity::warn, rod.rod,
                           "as set less than one turn of the thread is left; make the rod " +
                               std::string(rod.left_shorter_mm < rod.left_longer_mm ? "shorter" : "longer")),
                       left_mm, turn_mm, "mm"));
    }
}

void add_notes(const LinkageResult& result, plan::Findings& findings) {
    if (!result.exact.play.stated)
        findings.push_back(
            plan::finding_of("joint-play", Severity::note, "",
                             "no joint play is stated, so none is counted; real joints have 0.05 mm new "
                             "and several tenths worn"));
}

}  // namespace

plan::Findings linkage_findings(const LinkageResult& result, const Chain& chain) {
    plan::Findings findings;
    add_openings(result, chain, findings);
    add_verdicts(result, findings);
    add_intruders(result, chain, findings);
    add_joints(result, findings);
    add_transmission(result, findings);
    add_ends(result, findings);
    add_threads(result, findings);
    add_notes(result, findings);
    plan::sort_by_severity(findings);
    return findings;
}

}  // namespace fitup::calculations
