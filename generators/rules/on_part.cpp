// Rule off-part: what is cut or raised must be where the part is.
#include <algorithm>

#include "rules/checks.hpp"
#include "rules/wording.hpp"

namespace fitup::rules {

namespace {

using plan::Findings;

const char* place_text(Lie lie) {
    return lie == Lie::apart ? " lies outside the outline" : " stands across the outline";
}

plan::Point3 middle_of(const plan::Plan& plan, const plan::Contour& contour, plan::Side side) {
    const plan::Box2 box = contour.box();
    return {(box.least.x_mm + box.most.x_mm) / 2.0, (box.least.y_mm + box.most.y_mm) / 2.0,
            face_z_mm(plan, side)};
}

bool swallows_part(const plan::Contour& cut, const plan::Contour& outline) {
    const plan::Relation relation = plan::relation(outline, cut);
    return relation == plan::Relation::first_inside_second || relation == plan::Relation::same;
}

void check_hole(const Subject& subject, const Owner& owner, Findings& findings) {
    const plan::Plan& plan = subject.plan();
    const plan::Hole& hole = plan.holes[owner.index];
    const plan::Contour& shaft = subject.cuts()[owner.first_cut].area.outer;
    const Lie lie = subject.lie_in_outline(shaft);
    if (lie == Lie::inside) return;
    const plan::Point3 at = place_of(plan, hole);
    if (swallows_part(shaft, plan.body.outline)) {
        findings.push_back(
            final_stop_of("nothing-left", hole.id,
                          hole.id + " is as large as the part: make it smaller than the outline.", at));
        return;
    }
    findings.push_back(final_stop_of("off-part", hole.id,
                                     hole.id + place_text(lie) +
                                         ": check the position (a span taken for a radius, inches for "
                                         "millimetres, a sign) or make the outline larger.",
                                     at));
}

/// A blind hole no deeper than a pocket that takes its place away, or any hole inside an opening.
void check_metal_at_hole(const Subject& subject, const Owner& owner, Findings& findings) {
    const plan::Hole& hole = subject.plan().holes[owner.index];
    for (const PocketAtHole& at_hole : subject.pockets_at_hole(owner.index)) {
        const plan::Pocket& pocket = subject.plan().pockets[subject.cuts()[at_hole.cut].owner];
        const bool is_gone = pocket.through || (!hole.through && pocket.side == hole.from &&
                                                hole.depth_mm <= pocket.depth_mm + plan::same_point_mm);
        if (at_hole.lie != Lie::inside || !is_gone) continue;
        findings.push_back(
            final_stop_of("off-part", hole.id,
                          hole.id + " has no metal at its place: " + pocket.id +
                              " takes all of it away; move the hole, or make it deeper than the pocket.",
                          place_of(subject.plan(), hole)));
        return;
    }
}

/// A relief may run out over the edge; a register must be whole.
void check_pocket(const Subject& subject, const plan::Pocket& pocket, Findings& findings) {
    std::vector<Lie> lies;
    for (const plan::Area& area : pocket.areas) lies.push_back(subject.lie_in_outline(area.outer));
    const bool misses = std::all_of(lies.begin(), lies.end(), [](Lie lie) { return lie == Lie::apart; });
    const bool is_whole = std::all_of(lies.begin(), lies.end(), [](Lie lie) { return lie == Lie::inside; });
    if (lies.empty()) return;
    const plan::Point3 at = middle_of(subject.plan(), pocket.areas.front().outer, pocket.side);
    if (misses)
        findings.push_back(
            final_stop_of("off-part", pocket.id,
                          pocket.id + " lies outside the outline and cuts nothing: check its position.", at));
    if (!misses && !is_whole && pocket.kind == plan::PocketKind::register_recess)
        findings.push_back(final_stop_of(
            "off-part", pocket.id,
            pocket.id +
                " stands across the outline and locates nothing: make it smaller or the outline larger.",
            at));
}

void check_raised(const Subject& subject, const plan::Raised& raised, Findings& findings) {
    if (plan::lies_within(raised.outer, subject.plan().body.outline)) return;
    const plan::Relation relation = plan::relation(raised.outer, subject.plan().body.outline);
    findings.push_back(final_stop_of(
        "off-part", raised.id,
        raised.id + (relation == plan::Relation::apart ? place_text(Lie::apart) : place_text(Lie::crossing)) +
            ": make it smaller or the outline larger.",
        middle_of(subject.plan(), raised.outer, raised.side)));
}

}  // namespace

Findings check_on_part(const Subject& subject) {
    Findings findings;
    for (const Owner& owner : subject.owners()) {
        if (owner.is_pocket) continue;
        check_hole(subject, owner, findings);
        check_metal_at_hole(subject, owner, findings);
    }
    for (const plan::Pocket& pocket : subject.plan().pockets) check_pocket(subject, pocket, findings);
    for (const plan::Raised& raised : subject.plan().raised) check_raised(subject, raised, findings);
    return findings;
}

}  // namespace fitup::rules
