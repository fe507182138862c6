// Rules edge-distance and rim: holes, recesses and pockets against the outline, and the walls of spigots.
#include <algorithm>

#include "rules/checks.hpp"
#include "rules/doubt.hpp"
#include "rules/wording.hpp"

namespace fitup::rules {

namespace {

using plan::Finding;
using plan::Findings;

/// A hole drilled for no fastener carries no load at its edge: it only warns, and the rim rule watches its
/// wall.
Limit limit_for(const Subject& subject, const plan::Hole& hole) {
    Limit limit = edge_distance_limit(subject.plan().material.family, nominal_mm(hole));
    if (hole.kind == plan::HoleKind::drilled) limit.stop.reset();
    return subject.limits().of("edge-distance", limit);
}

/// Far enough in as drawn, but by less than what the survey that placed it leaves uncertain.
std::optional<Finding> doubtful_edge(const Subject& subject, const plan::Hole& hole, const Limit& limit,
                                     double to_edge_mm) {
    const double doubt = doubt_mm(hole), nominal = nominal_mm(hole);
    const auto verdict = under(limit, (to_edge_mm - doubt) / nominal);
    if (doubt == 0.0 || !verdict) return std::nullopt;
    Finding finding = hole_finding(subject.plan(), hole, "edge-distance",
                                   {plan::Severity::note, verdict->limit}, limit, "d", to_edge_mm / nominal);
    finding.message = "the centre of " + hole.id + " lies " + length_text(to_edge_mm) +
                      " from the outline, over the limit of " + length_text(verdict->limit * nominal) +
                      " by less than the " + length_text(doubt) + " that the survey leaves uncertain (" +
                      doubt_words + "): should it have to be moved, it may come too near.";
    return finding;
}

std::optional<Finding> judge_edge(const Subject& subject, const plan::Hole& hole,
                                  const plan::Contour& shaft) {
    const double to_edge_mm = subject.rim_mm(shaft) + hole.diameter_mm / 2.0;
    const double nominal = nominal_mm(hole);
    const Limit limit = limit_for(subject, hole);
    const auto verdict = under(limit, to_edge_mm / nominal);
    if (!verdict) return doubtful_edge(subject, hole, limit, to_edge_mm);
    Finding finding =
        hole_finding(subject.plan(), hole, "edge-distance", *verdict, limit, "d", to_edge_mm / nominal);
    finding.message = "the centre of " + hole.id + " lies " + length_text(to_edge_mm) +
                      " from the outline, " + diameters_text(to_edge_mm / nominal) + " of " +
                      size_text(hole) + ": in " + material_text(subject.plan().material) + " leave " +
                      length_text(verdict->limit * nominal) + "; move it in or make the outline larger.";
    return finding;
}

/// The rim of one cut. A relief that runs out over the edge is usually meant so: it only warns.
std::optional<Finding> judge_rim(const Subject& subject, const plan::Cut& cut) {
    const Lie lie = subject.lie_in_outline(cut.area.outer);
    if (lie == Lie::apart) return std::nullopt;
    const Limit limit = subject.limits().of("rim");
    const double rim_mm = lie == Lie::inside ? subject.rim_mm(cut.area.outer) : 0.0;
    auto verdict = under(limit, rim_mm);
    if (!verdict) return std::nullopt;
    const bool is_open_relief = lie == Lie::crossing && cut.role == plan::CutRole::pocket;
    if (is_open_relief) verdict = Verdict{plan::Severity::warn, limit.warn.value_or(0.0)};
    Finding finding = finding_of("rim", *verdict, limit, "mm", rim_mm);
    const std::string what = (cut.role == plan::CutRole::recess        ? "the recess of "
                              : cut.role == plan::CutRole::countersink ? "the countersink of "
                                                                       : "") +
                             cut.id;
    finding.message = lie == Lie::inside
                          ? "the rim outside " + what + " is " + length_text(rim_mm) +
                                ": move it in, make it smaller, or make the outline larger, until " +
                                length_text(verdict->limit) + " stays."
                          : what +
                                " breaks out through the rim: move it in or make it smaller, if it is not "
                                "meant to be open.";
    const plan::Point at = plan::gap(cut.area.outer, subject.plan().body.outline).on_first;
    finding.at_mm = {{at.x_mm, at.y_mm, cut.z_high_mm}};
    return finding;
}

bool is_worse(const Finding& a, const Finding& b) {
    return a.severity != b.severity ? a.severity > b.severity : *a.value < *b.value;
}

std::optional<Finding> worst_rim(const Subject& subject, const Owner& owner) {
    std::optional<Finding> worst;
    for (std::size_t i = owner.first_cut; i < owner.first_cut + owner.cut_count; ++i) {
        const plan::Cut& cut = subject.cuts()[i];
        const bool is_shaft = cut.role == plan::CutRole::hole || cut.role == plan::CutRole::bore;
        if (cut.role == plan::CutRole::point ||
            (is_shaft && subject.lie_in_outline(cut.area.outer) != Lie::inside))
            continue;
        auto finding = judge_rim(subject, cut);
        if (!finding) continue;
        finding->where = owner.id;
        if (!owner.is_pocket) finding->at_mm = place_of(subject.plan(), subject.plan().holes[owner.index]);
        if (!worst || is_worse(*finding, *worst)) worst = std::move(finding);
    }
    return worst;
}

std::optional<Finding> judge_spigot_wall(const Subject& subject, const plan::Raised& raised) {
    std::optional<plan::Gap> least;
    for (const plan::Contour& inner : raised.inner) {
        const plan::Gap gap = plan::gap(raised.outer, inner);
        if (!least || gap.distance_mm < least->distance_mm) least = gap;
    }
    if (!least) return std::nullopt;
    const Limit limit = subject.limits().of("rim");
    const auto verdict = under(limit, least->distance_mm);
    if (!verdict) return std::nullopt;
    Finding finding = finding_of("rim", *verdict, limit, "mm", least->distance_mm);
    finding.where = raised.id;
    finding.at_mm = {{least->on_first.x_mm, least->on_first.y_mm, face_z_mm(subject.plan(), raised.side)}};
    finding.message = "the wall of " + raised.id + " is " + length_text(least->distance_mm) +
                      ": make its bore smaller until " + length_text(verdict->limit) + " stays.";
    return finding;
}

}  // namespace

Findings check_edge_distance(const Subject& subject) {
    Findings findings;
    for (const Owner& owner : subject.owners()) {
        if (owner.is_pocket) continue;
        const plan::Hole& hole = subject.plan().holes[owner.index];
        if (hole.kind == plan::HoleKind::bore || is_eye(subject.plan(), hole)) continue;
        const plan::Contour& shaft = subject.cuts()[owner.first_cut].area.outer;
        if (subject.lie_in_outline(shaft) != Lie::inside) continue;
        if (auto finding = judge_edge(subject, hole, shaft)) findings.push_back(std::move(*finding));
    }
    return findings;
}

Findings check_rim(const Subject& subject) {
    Findings findings;
    for (const Owner& owner : subject.owners()) {
        const bool is_mark =
            owner.is_pocket && subject.plan().pockets[owner.index].kind == plan::PocketKind::mark;
        // A clamp's slit is meant to be open.
        const bool is_slit = owner.is_pocket && subject.plan().arm;
        if (is_mark || is_slit) continue;
        if (auto finding = worst_rim(subject, owner)) findings.push_back(std::move(*finding));
    }
    for (const plan::Raised& raised : subject.plan().raised) {
        if (auto finding = judge_spigot_wall(subject, raised)) findings.push_back(std::move(*finding));
    }
    return findings;
}

}  // namespace fitup::rules
