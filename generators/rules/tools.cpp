// Rules about what has to get in: drills, cutters, sockets, heads.
#include <algorithm>
#include <cmath>
#include <set>

#include "base/text.hpp"
#include "rules/checks.hpp"
#include "rules/wording.hpp"

namespace fitup::rules {

namespace {

using plan::Finding;
using plan::Findings;
using plan::Hole;

std::optional<Finding> judge_drill(const Subject& subject, const Hole& hole) {
    if (hole.kind == plan::HoleKind::bore || hole.slot_length_mm) return std::nullopt;
    const double value = (hole.depth_mm - (hole.recess ? hole.recess->depth_mm : 0.0)) / hole.diameter_mm;
    const Limit limit = subject.limits().of("deep-drill");
    const auto verdict = over(limit, value);
    if (!verdict) return std::nullopt;
    Finding finding = hole_finding(subject.plan(), hole, "deep-drill", *verdict, limit, "d", value);
    finding.message = hole.id + " is " + short_text(value, 1) +
                      " drill diameters deep: drill from both sides, peck, or make it shorter.";
    return finding;
}

std::optional<Finding> judge_socket(const Subject& subject, const Hole& hole) {
    const plan::SunkFastener& held = *hole.recess->holds;
    const double widest_mm = std::max({held.tool_outside_mm, held.washer_outside_mm, held.across_flats_mm});
    const double value = hole.recess->diameter_mm - widest_mm;
    const Limit limit = subject.limits().of("socket-room");
    const auto verdict = under(limit, value);
    if (!verdict) return std::nullopt;
    Finding finding = hole_finding(subject.plan(), hole, "socket-room", *verdict, limit, "mm", value);
    finding.message = "the recess of " + hole.id + " is " + length_text(hole.recess->diameter_mm) +
                      " wide, and the " + held.tool + " for its " + held.what + " needs " +
                      length_text(widest_mm) + ": make it at least " +
                      length_text(widest_mm + verdict->limit) + ", or \"auto\".";
    return finding;
}

std::optional<Finding> judge_head(const Subject& subject, const Hole& hole) {
    const plan::SunkFastener& held = *hole.recess->holds;
    const double value = hole.recess->depth_mm - held.height_mm - held.washer_thickness_mm;
    const Limit limit = subject.limits().of("proud-head");
    const auto verdict = under(limit, value);
    if (!verdict) return std::nullopt;
    Finding finding = hole_finding(subject.plan(), hole, "proud-head", *verdict, limit, "mm", value);
    finding.message = "the " + held.what + " of " + hole.id + " stands " + length_text(-value) +
                      " proud of the face: make the recess " +
                      length_text(held.height_mm + held.washer_thickness_mm) + " deep, or \"flush\".";
    return finding;
}

std::optional<Finding> judge_corner(const Subject& subject, const plan::Pocket& pocket) {
    if (!pocket.corner_radius_mm || pocket.kind == plan::PocketKind::mark) return std::nullopt;
    const double radius_mm = *pocket.corner_radius_mm;
    const Limit limit = subject.limits().of("inside-corner");
    const bool sharp = radius_mm <= 0.0;
    const double value = sharp ? 0.0 : pocket.depth_mm / (2.0 * radius_mm);
    const auto verdict =
        sharp ? std::optional<Verdict>(Verdict{plan::Severity::stop, 0.0}) : over(limit, value);
    if (!verdict) return std::nullopt;
    Finding finding = finding_of("inside-corner", *verdict, limit, "d", value);
    finding.where = pocket.id;
    if (sharp) {
        finding.value.reset();
        finding.limit.reset();
        finding.message =
            pocket.id +
            " has a sharp inside corner, which no cutter makes: give it a corner_radius of at least " +
            length_text(pocket.depth_mm / 6.0) + ".";
    } else {
        finding.message = pocket.id + " is " + length_text(pocket.depth_mm) + " deep with corners of " +
                          length_text(radius_mm) + ", " + short_text(value, 1) +
                          " cutter diameters: make the corner radius " +
                          length_text(pocket.depth_mm / (2.0 * verdict->limit)) +
                          " or more, or the pocket shallower.";
    }
    return finding;
}

std::optional<Finding> judge_hollow(const Subject& subject, const plan::Pocket& pocket) {
    if (pocket.kind != plan::PocketKind::hollow) return std::nullopt;
    const double value = pocket.depth_mm / subject.plan().body.thickness_mm;
    const Limit limit = subject.limits().of("deep-hollow");
    const auto verdict = over(limit, value);
    if (!verdict) return std::nullopt;
    Finding finding = finding_of("deep-hollow", *verdict, limit, "", value);
    finding.where = pocket.id;
    finding.message = "the hollow takes " + short_text(100.0 * value, 0) +
                      " % of the thickness from one side: rolled plate moves. Rough both sides, let it rest "
                      "unclamped, then finish; or use cast tooling plate.";
    return finding;
}

Findings unverified(const Subject& subject) {
    Findings findings;
    std::set<std::string> told;
    for (const Hole& hole : subject.plan().holes) {
        if (!hole.recess || !hole.recess->holds || !hole.recess->holds->unverified) continue;
        const plan::SunkFastener& held = *hole.recess->holds;
        if (!told.insert(held.what + held.designation + held.source).second) continue;
        Finding finding = note_of("unverified-figure", hole.id,
                                  "the room for the " + held.designation + " " + held.what +
                                      " rests on a figure that was recalled, not seen in print: try your own "
                                      "socket before cutting.");
        finding.source = held.source;
        findings.push_back(std::move(finding));
    }
    return findings;
}

}  // namespace

Findings check_tools(const Subject& subject) {
    Findings findings;
    const auto keep = [&findings](std::optional<Finding> finding) {
        if (finding) findings.push_back(std::move(*finding));
    };
    for (const Hole& hole : subject.plan().holes) {
        keep(judge_drill(subject, hole));
        if (!hole.recess || !hole.recess->holds) continue;
        keep(judge_socket(subject, hole));
        keep(judge_head(subject, hole));
    }
    for (const plan::Pocket& pocket : subject.plan().pockets) {
        keep(judge_corner(subject, pocket));
        keep(judge_hollow(subject, pocket));
    }
    for (Finding& finding : unverified(subject)) findings.push_back(std::move(finding));
    return findings;
}

}  // namespace fitup::rules
