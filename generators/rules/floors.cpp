// Rules recess-floor, hole-floor and drill-through: metal left between a cut and the far face, or a pocket
// milled from there.
#include <algorithm>

#include "rules/checks.hpp"
#include "rules/stretch.hpp"
#include "rules/wording.hpp"

namespace fitup::rules {

namespace {

using plan::Finding;
using plan::Findings;
using plan::Hole;

Finding at_hole(Finding finding, const plan::Plan& plan, const Hole& hole) {
    finding.where = hole.id;
    finding.at_mm = place_of(plan, hole);
    (*finding.at_mm)[2] = face_z_mm(plan, other(hole.from));
    return finding;
}

/// What ends a blind hole's metal, seen from the face it is made from.
struct Behind {
    double metal_mm = 0.0;
    std::string what;  ///< "face A", "hollow"
};

Behind behind(const Subject& subject, std::size_t index, const plan::Contour& shaft) {
    const plan::Plan& plan = subject.plan();
    const Hole& hole = plan.holes[index];
    Behind least{metal_behind_mm(plan, hole.from, shaft), std::string("face ") + to_text(other(hole.from))};
    for (const PocketAtHole& at_hole : subject.pockets_at_hole(index)) {
        const plan::Pocket& pocket = plan.pockets[subject.cuts()[at_hole.cut].owner];
        const double metal_mm = plan.body.thickness_mm - pocket.depth_mm;
        if (pocket.side != hole.from && at_hole.lie == Lie::inside && metal_mm < least.metal_mm)
            least = {metal_mm, pocket.id};
    }
    return least;
}

/// The point comes out: a stop when the full diameter stays in, a warning when the hole is through in all but
/// name.
std::optional<Finding> judge_point(const Subject& subject, const Hole& hole, const Behind& behind) {
    const double out_mm = hole.depth_mm + point_height_mm(hole) - behind.metal_mm;
    const bool is_through = hole.depth_mm >= behind.metal_mm - equal_values;
    const Limit limit = subject.limits().of("drill-through");
    auto verdict = over(limit, out_mm);
    if (!verdict && !is_through) return std::nullopt;
    if (is_through) verdict = Verdict{plan::Severity::warn, limit.stop.value_or(0.0)};
    Finding finding = finding_of("drill-through", *verdict, limit, "mm", out_mm);
    const double room_mm = std::max(0.0, behind.metal_mm - point_height_mm(hole));
    finding.message = is_through
                          ? hole.id + " is given as blind and goes right through to " + behind.what +
                                ": leave its depth out, or make it less than " + length_text(room_mm) + "."
                          : "the drill point of " + hole.id + " comes out " + length_text(out_mm) +
                                " through " + behind.what + ": drill less than " + length_text(room_mm) +
                                " deep, ask for a flat bottom, or go right through.";
    return at_hole(std::move(finding), subject.plan(), hole);
}

std::optional<Finding> judge_blind_hole(const Subject& subject, std::size_t index,
                                        const plan::Contour& shaft) {
    const Hole& hole = subject.plan().holes[index];
    if (hole.through) return std::nullopt;
    const Behind least = behind(subject, index, shaft);
    if (auto finding = judge_point(subject, hole, least)) return finding;
    const double floor_mm = least.metal_mm - hole.depth_mm - point_height_mm(hole);
    const Limit limit = subject.limits().of("hole-floor");
    const auto verdict = under(limit, floor_mm);
    if (!verdict || floor_mm < 0.0) return std::nullopt;
    Finding finding = finding_of("hole-floor", *verdict, limit, "mm", floor_mm);
    finding.message = "under the drill point of " + hole.id + " " + length_text(floor_mm) + " is left to " +
                      least.what + ": drill shallower until " + length_text(verdict->limit) + " stays.";
    return at_hole(std::move(finding), subject.plan(), hole);
}

std::optional<Finding> judge_floor(const Subject& subject, const Owner& owner, const std::string& what,
                                   double floor_mm, plan::Point3 at_mm) {
    const Limit limit = recess_floor_limit(subject, owner);
    const auto verdict = under(limit, floor_mm);
    if (!verdict) return std::nullopt;
    Finding finding = finding_of("recess-floor", *verdict, limit, "mm", floor_mm);
    finding.where = owner.id;
    finding.at_mm = at_mm;
    finding.message = "under " + what + " " + length_text(floor_mm) +
                      " is left: make it shallower or the plate thicker until " +
                      length_text(verdict->limit) + " stays.";
    return finding;
}

std::optional<Finding> judge_hole_recess(const Subject& subject, const Owner& owner) {
    const plan::Plan& plan = subject.plan();
    const Hole& hole = plan.holes[owner.index];
    if (!hole.recess) return std::nullopt;
    const plan::Recess& recess = *hole.recess;
    const plan::Contour circle(plan::Circle{hole.at_mm, recess.diameter_mm / 2.0});
    const double floor_mm = metal_behind_mm(plan, recess.side, circle) - recess.depth_mm;
    return judge_floor(subject, owner, "the recess of " + hole.id, floor_mm,
                       {hole.at_mm.x_mm, hole.at_mm.y_mm, face_z_mm(plan, recess.side)});
}

std::optional<Finding> judge_pocket_floor(const Subject& subject, const Owner& owner) {
    const plan::Plan& plan = subject.plan();
    const plan::Pocket& pocket = plan.pockets[owner.index];
    if (pocket.through || pocket.kind == plan::PocketKind::mark) return std::nullopt;
    const plan::Point at = subject.cuts()[owner.first_cut].area.outer.box().least;
    return judge_floor(subject, owner, pocket.id, plan.body.thickness_mm - pocket.depth_mm,
                       {at.x_mm, at.y_mm, face_z_mm(plan, pocket.side)});
}

}  // namespace

Findings check_floors(const Subject& subject) {
    Findings findings;
    const auto add = [&findings](std::optional<Finding> finding) {
        if (finding) findings.push_back(std::move(*finding));
    };
    for (const Owner& owner : subject.owners()) {
        if (owner.is_pocket) {
            add(judge_pocket_floor(subject, owner));
            continue;
        }
        add(judge_blind_hole(subject, owner.index, subject.cuts()[owner.first_cut].area.outer));
        add(judge_hole_recess(subject, owner));
    }
    return findings;
}

}  // namespace fitup::rules
