// Rule register-cut: what bites into the edge of a raised register, or leaves a thin wall there.
#include "rules/checks.hpp"
#include "rules/wording.hpp"

namespace fitup::rules {

namespace {

using plan::Finding;

bool goes_through(const plan::Cut& cut, plan::Side side) {
    return side == plan::Side::A ? cut.opens_a : cut.opens_b;
}

/// The edges of a ring, with which side of each is metal.
struct RingEdge {
    const plan::Contour* contour = nullptr;
    bool metal_is_inside = true;
};

std::vector<RingEdge> edges_of(const plan::Raised& raised) {
    std::vector<RingEdge> edges{{&raised.outer, true}};
    for (const plan::Contour& inner : raised.inner) edges.push_back({&inner, false});
    return edges;
}

/// Metal between a cut and one edge of the ring: 0 where it bites, nothing where the cut is off the ring or
/// far inside it.
std::optional<double> wall_mm(const plan::Contour& cut, const RingEdge& edge) {
    const plan::Relation relation = plan::relation(cut, *edge.contour);
    const plan::Relation on_metal =
        edge.metal_is_inside ? plan::Relation::first_inside_second : plan::Relation::apart;
    const bool swallows = edge.metal_is_inside && (relation == plan::Relation::second_inside_first ||
                                                   relation == plan::Relation::same);
    if (relation == plan::Relation::crossing || swallows) return 0.0;
    if (relation != on_metal) return std::nullopt;
    return plan::gap(cut, *edge.contour).distance_mm;
}

bool is_on_ring(const plan::Contour& cut, const plan::Raised& raised) {
    const plan::Relation outer = plan::relation(cut, raised.outer);
    if (outer == plan::Relation::apart) return false;
    for (const plan::Contour& inner : raised.inner) {
        const plan::Relation relation = plan::relation(cut, inner);
        if (relation == plan::Relation::first_inside_second || relation == plan::Relation::same) return false;
    }
    return true;
}

std::optional<Finding> judge(const Subject& subject, const plan::Raised& raised, const plan::Cut& cut) {
    if (!is_on_ring(cut.area.outer, raised)) return std::nullopt;
    std::optional<double> least_mm;
    for (const RingEdge& edge : edges_of(raised)) {
        const auto wall = wall_mm(cut.area.outer, edge);
        if (wall && (!least_mm || *wall < *least_mm)) least_mm = wall;
    }
    const Limit limit = subject.limits().of("register-cut");
    const auto verdict = least_mm ? under(limit, *least_mm) : std::nullopt;
    if (!verdict) return std::nullopt;
    Finding finding = finding_of("register-cut", *verdict, limit, "mm", *least_mm);
    finding.where = cut.id + ", " + raised.id;
    const plan::Box2 box = cut.area.outer.box();
    finding.at_mm = {{(box.least.x_mm + box.most.x_mm) / 2.0, (box.least.y_mm + box.most.y_mm) / 2.0,
                      face_z_mm(subject.plan(), raised.side)}};
    finding.message = *least_mm <= 0.0 ? cut.id + " bites into the edge of " + raised.id +
                                             ", which locates by it: move the hole, make its recess smaller, "
                                             "or put it on the other side."
                                       : "between " + cut.id + " and the edge of " + raised.id +
                                             " the wall is " + length_text(*least_mm) + ": move it until " +
                                             length_text(verdict->limit) + " stays.";
    return finding;
}

bool may_bite(const plan::Cut& cut) {
    return cut.role != plan::CutRole::bore && cut.role != plan::CutRole::point;
}

}  // namespace

plan::Findings check_register_edges(const Subject& subject) {
    // An arm's boss locates nothing by its edge.
    if (subject.plan().arm) return {};
    plan::Findings findings;
    for (const plan::Raised& raised : subject.plan().raised) {
        for (const Owner& owner : subject.owners()) {
            std::optional<Finding> worst;
            for (std::size_t i = owner.first_cut; i < owner.first_cut + owner.cut_count; ++i) {
                const plan::Cut& cut = subject.cuts()[i];
                if (!may_bite(cut) || !goes_through(cut, raised.side)) continue;
                auto finding = judge(subject, raised, cut);
                if (finding && (!worst || *finding->value < *worst->value)) worst = std::move(finding);
            }
            if (worst) findings.push_back(std::move(*worst));
        }
    }
    return findings;
}

}  // namespace fitup::rules
