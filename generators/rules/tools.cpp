// Rules deep-drill, socket-room and proud-head: what has to get in.
#include <algorithm>

#include "base/text.hpp"
#include "rules/checks.hpp"
#include "rules/stretch.hpp"
#include "rules/wording.hpp"

namespace fitup::rules {

namespace {

using plan::Finding;
using plan::Findings;
using plan::Hole;

/// From where the drill meets metal to the end of its full diameter.
double drilled_mm(const Subject& subject, std::size_t index) {
    const Hole& hole = subject.plan().holes[index];
    const Stretch metal = metal_along(subject, index, PartlyCut::is_metal);
    const double end_mm = hole.through ? metal.to_mm : std::min(hole.depth_mm, metal.to_mm);
    return std::max(0.0, end_mm - metal.from_mm);
}

std::optional<Finding> judge_drill(const Subject& subject, std::size_t index) {
    const Hole& hole = subject.plan().holes[index];
    if (hole.kind == plan::HoleKind::bore || hole.slot_length_mm) return std::nullopt;
    const double depth_mm = drilled_mm(subject, index);
    const double value = depth_mm / hole.diameter_mm;
    const Limit limit = subject.limits().of("deep-drill");
    const auto verdict = over(limit, value);
    if (!verdict) return std::nullopt;
    Finding finding = hole_finding(subject.plan(), hole, "deep-drill", *verdict, limit, "d", value);
    finding.message = hole.id + " is drilled " + length_text(depth_mm) + " through metal, " +
                      short_text(value, 1) + " drill diameters, where " + short_text(verdict->limit, 1) +
                      " are usual: drill from both sides, peck, or make it shorter.";
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

}  // namespace

Findings check_tools(const Subject& subject) {
    Findings findings;
    const auto keep = [&findings](std::optional<Finding> finding) {
        if (finding) findings.push_back(std::move(*finding));
    };
    for (std::size_t i = 0; i < subject.plan().holes.size(); ++i) {
        const Hole& hole = subject.plan().holes[i];
        keep(judge_drill(subject, i));
        if (!hole.recess || !hole.recess->holds) continue;
        keep(judge_socket(subject, hole));
        keep(judge_head(subject, hole));
    }
    return findings;
}

}  // namespace fitup::rules
