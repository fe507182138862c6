// Rules thread-engagement, tap-room and long-thread.
#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "rules/checks.hpp"
#include "rules/stretch.hpp"
#include "rules/wording.hpp"

namespace fitup::rules {

namespace {

using plan::Finding;
using plan::Findings;
using plan::Hole;

/// How deep a countersink is wider than the thread.
double countersunk_mm(const Hole& hole) {
    const double beyond_mm = (hole.countersink->diameter_mm - hole.thread->major_mm) / 2.0;
    return std::max(0.0, beyond_mm / (hole.countersink->angle * 0.5).tan());
}

/// Where a thread may stand in metal: a tap begins at the plane of the face, whatever stands on it.
Stretch metal_for_thread(const Subject& subject, std::size_t index) {
    const Hole& hole = subject.plan().holes[index];
    Stretch metal = metal_along(subject, index, PartlyCut::is_gone);
    metal.from_mm = std::max(metal.from_mm, 0.0);
    if (!hole.countersink) return metal;
    const double sunk_mm = countersunk_mm(hole);
    if (hole.countersink->side == hole.from) {
        metal.from_mm = std::max(metal.from_mm, sunk_mm);
    } else {
        metal.to_mm = std::min(metal.to_mm, subject.plan().body.thickness_mm - sunk_mm);
    }
    return metal;
}

/// The eye of a crank or arm is tapped right through its bosses.
bool is_tapped_through_bosses(const plan::Plan& plan, const Hole& hole) {
    return (plan.crank || plan.arm) && hole.through &&
           hole.thread->depth_mm >= plan.body.thickness_mm - plan::same_point_mm;
}

double engaged_mm(const Subject& subject, std::size_t index) {
    const Hole& hole = subject.plan().holes[index];
    if (is_tapped_through_bosses(subject.plan(), hole)) {
        const Stretch all = metal_along(subject, index, PartlyCut::is_gone);
        return std::max(0.0, all.to_mm - all.from_mm);
    }
    const Stretch metal = metal_for_thread(subject, index);
    return std::max(0.0, std::min(hole.thread->depth_mm, metal.to_mm) - metal.from_mm);
}

std::optional<Finding> judge_engagement(const Subject& subject, std::size_t index) {
    const Hole& hole = subject.plan().holes[index];
    const double engaged_mm = rules::engaged_mm(subject, index);
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

/// What gives a tap its room below the thread: a deeper drill, where its point stays in the metal.
std::string more_tap_room(const plan::Plan& plan, const Hole& hole, double room_mm) {
    const double wanted_mm = hole.thread->depth_mm + room_mm;
    const double most_mm =
        metal_behind_mm(plan, hole.from, plan::shaft_contour(hole)) - point_height_mm(hole);
    if (wanted_mm < most_mm) return "drill " + length_text(wanted_mm) + " deep, or make the thread shorter.";
    // Down to a hundredth, as it is told.
    const double thread_mm = std::floor(100.0 * (most_mm - room_mm)) / 100.0;
    return "a deeper drill would come out on the other side: " +
           (thread_mm > 0.0
                ? "make the thread less than " + length_text(thread_mm) + " deep, or go right through."
                : "go right through.");
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
                      short_text(below_mm / pitch_mm, 2) +
                      " pitches: " + more_tap_room(subject.plan(), hole, verdict->limit * pitch_mm);
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
