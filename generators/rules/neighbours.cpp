// Rules about two cuts near each other: holes-meeting, doubled-hole, web, and the floors between cuts from
// opposite sides.
#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "plan/vector.hpp"
#include "rules/checks.hpp"
#include "rules/doubt.hpp"
#include "rules/wording.hpp"

namespace fitup::rules {

namespace {

using plan::Cut;
using plan::CutRole;
using plan::Finding;
using plan::Severity;

struct Pair {
    const Subject& subject;
    const Owner& first_owner;
    const Owner& second_owner;
    const Cut& first;
    const Cut& second;
    plan::CutGap gap;
};

bool is_core(const Cut& cut) {
    return cut.role == CutRole::hole || cut.role == CutRole::point || cut.role == CutRole::bore;
}
bool is_pocket(const Cut& cut) { return cut.role == CutRole::pocket; }
bool is_blind_end(const Cut& cut) { return cut.role == CutRole::point || cut.role == CutRole::hole; }

plan::Point3 middle(const plan::CutGap& gap) {
    plan::Point3 at{};
    for (std::size_t axis = 0; axis < 3; ++axis) at[axis] = (gap.on_first[axis] + gap.on_second[axis]) / 2.0;
    return at;
}

std::string both(const Pair& pair) { return pair.first.id + ", " + pair.second.id; }
std::string both_named(const Pair& pair) { return name_of(pair.first) + " and " + name_of(pair.second); }

/// Null for a pocket.
const plan::Hole* hole_of(const Pair& pair, const Owner& owner) {
    return owner.is_pocket ? nullptr : &pair.subject.plan().holes[owner.index];
}

bool is_doubled(const plan::Hole& a, const plan::Hole& b) {
    const bool same_use = a.kind != plan::HoleKind::bore && b.kind != plan::HoleKind::bore;
    // Blind holes from opposite sides on one axis are two holes, which may or may not meet.
    const bool same_metal = a.from == b.from || a.through || b.through;
    return same_use && same_metal &&
           plan::distance_mm(a.at_mm, b.at_mm) < std::min(a.diameter_mm, b.diameter_mm) / 2.0;
}

Finding holes_meet(const Pair& pair) {
    const plan::Plan& plan = pair.subject.plan();
    const plan::Hole& a = plan.holes[pair.first.owner];
    const plan::Hole& b = plan.holes[pair.second.owner];
    const double apart_mm = plan::distance_mm(a.at_mm, b.at_mm);
    if (is_doubled(a, b)) {
        return final_stop_of("doubled-hole", both(pair),
                             a.id + " and " + b.id + " are one place (centres " + length_text(apart_mm) +
                                 " apart): take one of them out, or correct the point that was given twice.",
                             place_of(plan, a));
    }
    const std::string opposite = a.from != b.from && !a.through && !b.through ? ", one from each side" : "";
    return final_stop_of("holes-meeting", both(pair),
                         name_of(pair.first) + " runs into " + name_of(pair.second) + " in the metal" +
                             opposite + " (centres " + length_text(apart_mm) +
                             " apart): turn or move one pattern, or make the deeper one shallower.",
                         middle(pair.gap));
}

/// Something that opens into something else: value 0 of the web rule, with the severity that the case
/// deserves.
Finding opens(const Pair& pair, Severity severity, const std::string& advice) {
    const Limit limit = web_limit(pair.subject, pair.first_owner, pair.second_owner);
    const double step = severity == Severity::stop ? limit.stop.value_or(0.0) : limit.warn.value_or(0.0);
    Finding finding = finding_of("web", {severity, step}, limit, "mm", 0.0);
    finding.message = name_of(pair.first) + " opens into " + name_of(pair.second) + ": " + advice;
    return finding;
}

bool is_off(const Limit& limit) { return limit.warn.value_or(0.0) <= 0.0 && limit.stop.value_or(0.0) <= 0.0; }

/// Whether a hole's cut lies wholly in the pocket's area: then it is drilled from the pocket's floor.
bool lies_in_pocket(const Pair& pair) {
    const bool first_is_pocket = is_pocket(pair.first);
    const Cut& cut = first_is_pocket ? pair.second : pair.first;
    const std::size_t pocket =
        static_cast<std::size_t>((first_is_pocket ? &pair.first : &pair.second) - pair.subject.cuts().data());
    return pair.subject.lie_in_pocket(cut.area.outer, pocket) == Lie::inside;
}

std::optional<Finding> meet(const Pair& pair) {
    const Cut& a = pair.first;
    const Cut& b = pair.second;
    if (is_core(a) && is_core(b)) return holes_meet(pair);
    if (is_off(web_limit(pair.subject, pair.first_owner, pair.second_owner))) return std::nullopt;
    if (is_pocket(a) || is_pocket(b)) {
        const bool is_meant =
            a.role == CutRole::bore || b.role == CutRole::bore || (is_pocket(a) && is_pocket(b));
        if (is_meant || lies_in_pocket(pair)) return std::nullopt;
        return opens(pair, Severity::warn,
                     "the drill or cutter breaks out through a wall there; mill the pocket last, or move one "
                     "of them.");
    }
    const bool into_hole = a.role == CutRole::hole || b.role == CutRole::hole || a.role == CutRole::point ||
                           b.role == CutRole::point;
    if (into_hole)
        return opens(pair, Severity::stop, "move one of them, or make the recess smaller or shallower.");
    return opens(
        pair, Severity::warn,
        "no wall is left between them; move the hole, or make the recess smaller, if that is not meant.");
}

/// One above the other: what is between them is a floor.
std::optional<Finding> thin_floor(const Pair& pair) {
    const bool under_hole = is_blind_end(pair.first) || is_blind_end(pair.second);
    const std::string rule = under_hole ? "hole-floor" : "recess-floor";
    Limit limit = pair.subject.limits().of(rule);
    if (!under_hole) {
        limit = recess_floor_limit(pair.subject, pair.first_owner);
        const Limit other = recess_floor_limit(pair.subject, pair.second_owner);
        if (other.warn.value_or(0.0) > limit.warn.value_or(0.0)) limit = other;
    }
    const auto verdict = under(limit, pair.gap.distance_mm);
    if (!verdict) return std::nullopt;
    Finding finding = finding_of(rule, *verdict, limit, "mm", pair.gap.distance_mm);
    finding.message = "between " + both_named(pair) + " only " + length_text(pair.gap.distance_mm) +
                      " of metal is left: make one shallower until " + length_text(verdict->limit) +
                      " stays.";
    return finding;
}

/// A wall that is thick enough as drawn, between holes that a survey placed: moved by what it leaves
/// uncertain they may come too near.
std::optional<Finding> doubtful_wall(const Pair& pair, const Limit& limit) {
    const double doubt_mm =
        doubt_between_mm(hole_of(pair, pair.first_owner), hole_of(pair, pair.second_owner));
    const auto verdict = under(limit, pair.gap.distance_mm - doubt_mm);
    if (doubt_mm == 0.0 || !verdict) return std::nullopt;
    Finding finding = finding_of("web", {Severity::note, verdict->limit}, limit, "mm", pair.gap.distance_mm);
    finding.message = "between " + both_named(pair) + " the wall is " + length_text(pair.gap.distance_mm) +
                      ", over its limit of " + length_text(verdict->limit) + " by less than the " +
                      length_text(doubt_mm) + " that the survey leaves uncertain (" + doubt_words +
                      "): should a hole have to be moved, it may come too near.";
    return finding;
}

std::optional<Finding> thin_wall(const Pair& pair) {
    const Limit limit = web_limit(pair.subject, pair.first_owner, pair.second_owner);
    const auto verdict = under(limit, pair.gap.distance_mm);
    if (!verdict) return doubtful_wall(pair, limit);
    Finding finding = finding_of("web", *verdict, limit, "mm", pair.gap.distance_mm);
    finding.message = "between " + both_named(pair) + " the wall is " + length_text(pair.gap.distance_mm) +
                      ": move one, or make it smaller or shallower, until " + length_text(verdict->limit) +
                      " stays.";
    return finding;
}

std::optional<Finding> judge(const Pair& pair) {
    std::optional<Finding> finding;
    const plan::CutGap& gap = pair.gap;
    const double across_mm =
        std::hypot(gap.on_first[0] - gap.on_second[0], gap.on_first[1] - gap.on_second[1]);
    if (gap.distance_mm <= plan::same_point_mm) {
        finding = meet(pair);
    } else {
        finding = across_mm <= plan::same_point_mm ? thin_floor(pair) : thin_wall(pair);
    }
    if (finding) {
        finding->where = both(pair);
        if (!finding->at_mm) finding->at_mm = middle(gap);
    }
    return finding;
}

/// Doubled before meeting, stops before warnings, then the thinner wall.
bool is_worse(const Finding& a, const Finding& b) {
    if (a.final != b.final) return a.final;
    if (a.severity != b.severity) return a.severity > b.severity;
    return a.value.value_or(0.0) < b.value.value_or(0.0);
}

/// Whether a round cut and a pocket need no exact distance, so that the pocket's many edges are not walked:
/// the cut is drilled from the pocket's floor, or further from its edge than any rule asks.
bool is_clear_of_pocket(const Subject& subject, const Cut& round, std::size_t pocket, double reach_mm) {
    const plan::Circle* circle = round.area.outer.circle();
    if (circle == nullptr || is_pocket(round)) return false;
    const Cut& cut = subject.cuts()[pocket];
    const double depth_mm = subject.edge_of(pocket).ask(circle->centre).depth_mm;
    const bool meets_in_height = round.z_low_mm <= cut.z_high_mm && cut.z_low_mm <= round.z_high_mm;
    return -depth_mm > circle->radius_mm + reach_mm ||
           (meets_in_height && depth_mm >= circle->radius_mm + plan::same_point_mm);
}

std::optional<Finding> worst_of(const Subject& subject, const Owner& first, const Owner& second) {
    std::optional<Finding> worst;
    const double reach_mm = std::max(subject.reach_mm(first), subject.reach_mm(second));
    for (std::size_t i = first.first_cut; i < first.first_cut + first.cut_count; ++i) {
        for (std::size_t j = second.first_cut; j < second.first_cut + second.cut_count; ++j) {
            const Cut& a = subject.cuts()[i];
            const Cut& b = subject.cuts()[j];
            if (is_pocket(b) && is_clear_of_pocket(subject, a, j, reach_mm)) continue;
            auto finding = judge({subject, first, second, a, b, plan::gap(a, b)});
            if (finding && (!worst || is_worse(*finding, *worst))) worst = std::move(finding);
        }
    }
    return worst;
}

}  // namespace

plan::Findings check_neighbours(const Subject& subject) {
    plan::Findings findings;
    for (const auto& [first, second] : subject.neighbours()) {
        if (auto finding = worst_of(subject, subject.owners()[first], subject.owners()[second]))
            findings.push_back(std::move(*finding));
    }
    return findings;
}

}  // namespace fitup::rules
