// Rules thread-engagement, tap-room and long-thread.
#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "rules/checks.hpp"
#include "rules/wording.hpp"

namespace fitup::rules {

namespace {

using plan::Finding;
using plan::Findings;
using plan::Hole;

/// What is gone at the two ends of a tapped hole, measured along it from the face it is made from.
struct Gone {
    double near_mm = 0.0;  ///< gone from the start to here
    double far_mm = 0.0;   ///< gone from here to the far face
};

void take(Gone& gone, const Hole& hole, plan::Side side, double depth_mm, double thickness_mm) {
    if (side == hole.from) {
        gone.near_mm = std::max(gone.near_mm, depth_mm);
    } else {
        gone.far_mm = std::min(gone.far_mm, thickness_mm - depth_mm);
    }
}

/// How deep a countersink is wider than the thread.
double countersunk_mm(const Hole& hole) {
    const double beyond_mm = (hole.countersink->diameter_mm - hole.thread->major_mm) / 2.0;
    return std::max(0.0, beyond_mm / (hole.countersink->angle * 0.5).tan());
}

Gone gone_at(const Subject& subject, std::size_t index) {
    const plan::Plan& plan = subject.plan();
    const Hole& hole = plan.holes[index];
    const double thickness_mm = plan.body.thickness_mm;
    Gone gone{0.0, thickness_mm};
    if (hole.recess) take(gone, hole, hole.recess->side, hole.recess->depth_mm, thickness_mm);
    if (hole.countersink) take(gone, hole, hole.countersink->side, countersunk_mm(hole), thickness_mm);
    for (const PocketAtHole& at_hole : subject.pockets_at_hole(index)) {
        const plan::Pocket& pocket = plan.pockets[subject.cuts()[at_hole.cut].owner];
        take(gone, hole, pocket.side, pocket.through ? thickness_mm : pocket.depth_mm, thickness_mm);
    }
    return gone;
}

std::optional<Finding> judge_engagement(const Subject& subject, std::size_t index) {
    const Hole& hole = subject.plan().holes[index];
    const Gone gone = gone_at(subject, index);
    const double engaged_mm = std::max(0.0, std::min(hole.thread->depth_mm, gone.far_mm) - gone.near_mm);
    const double value = engaged_mm / hole.thread->major_mm;
    const plan::Material& material = subject.plan().material;
    const Limit limit = subject.limits().of("thread-engagement", engagement_limit(material.family));
    const auto verdict = under(limit, value);
    if (!verdict) return std::nullopt;
    Finding finding = hole_finding(subject.plan(), hole, "thread-engagement", *verdict, limit, "d", value);
    const double lost_mm = hole.thread->depth_mm - engaged_mm;
    const std::string lost =
        lost_mm > equal_values ? " (of " + length_text(hole.thread->depth_mm) + ", the rest cut away)" : "";
    finding.message = hole.id + " has " + length_text(engaged_mm) + " of thread in the metal" + lost + ", " +
                      diameters_text(value) + " of " + hole.thread->designation + ": in " +
                      material_text(material) + " make it " +
                      length_text(verdict->limit * hole.thread->major_mm) +
                      ", or fit a thread insert, or a bolt right through with a nut.";
    return finding;
}

std::optional<Finding> judge_tap_room(const Subject& subject, std::size_t index) {
    const Hole& hole = subject.plan().holes[index];
    if (hole.through) return std::nullopt;
    const double pitch_mm = hole.thread->pitch_mm;
    const double below_mm = hole.depth_mm - hole.thread->depth_mm;
    const Limit limit = subject.limits().of("tap-room");
    const auto verdict = under(limit, below_mm / pitch_mm);
    if (!verdict) return std::nullopt;
    Finding finding =
        hole_finding(subject.plan(), hole, "tap-room", *verdict, limit, "pitches", below_mm / pitch_mm);
    finding.message = "below the thread of " + hole.id + " the drill goes " + length_text(below_mm) + ", " +
                      short_text(below_mm / pitch_mm, 2) + " pitches: drill " +
                      length_text(hole.thread->depth_mm + verdict->limit * pitch_mm) +
                      " deep, or make the thread shorter.";
    return finding;
}

std::optional<Finding> judge_length(const Subject& subject, std::size_t index) {
    const Hole& hole = subject.plan().holes[index];
    const double value = hole.thread->depth_mm / hole.thread->major_mm;
    const Limit limit = subject.limits().of("long-thread");
    const auto verdict = over(limit, value);
    if (!verdict) return std::nullopt;
    Finding finding = hole_finding(subject.plan(), hole, "long-thread", *verdict, limit, "d", value);
    finding.message = "the thread of " + hole.id + " is " + length_text(hole.thread->depth_mm) + " long, " +
                      diameters_text(value) + " of " + hole.thread->designation + ": " +
                      diameters_text(verdict->limit) +
                      " holds as much; make it shorter, or counterbore the start.";
    return finding;
}

}  // namespace

Findings check_threads(const Subject& subject) {
    Findings findings;
    for (std::size_t i = 0; i < subject.plan().holes.size(); ++i) {
        if (!subject.plan().holes[i].thread) continue;
        for (const auto judge : {judge_engagement, judge_tap_room, judge_length}) {
            if (auto finding = judge(subject, i)) findings.push_back(std::move(*finding));
        }
    }
    return findings;
}

}  // namespace fitup::rules
