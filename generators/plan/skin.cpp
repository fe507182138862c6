#include "plan/skin.hpp"

#include <algorithm>

#include "plan/skin_faces.hpp"

namespace fitup::plan {

namespace {

/// The outline's inner edge under a modelled edge break; none when an edge would vanish.
std::optional<Contour> break_contour(const Slab& body) {
    if (!body.edge_break_modelled || !body.edge_break_mm) return {};
    if (2.0 * *body.edge_break_mm >= body.thickness_mm) return {};
    const std::vector<Contour> loops = inset(body.outline, *body.edge_break_mm);
    if (loops.size() != 1 || loops.front().edges().size() != body.outline.edges().size()) return {};
    return loops.front();
}

Plan only_hole(const Plan& plan, std::size_t hole) {
    Plan one = plan;
    one.raised.clear();
    one.pockets.clear();
    one.holes = {plan.holes[hole]};
    one.body.edge_break_modelled = false;
    return one;
}

Plan only_pocket(const Plan& plan, const Cut& cut) {
    Plan one = plan;
    one.raised.clear();
    one.holes.clear();
    Pocket pocket = plan.pockets[cut.owner];
    pocket.areas = {cut.area};
    one.pockets = {pocket};
    one.body.edge_break_modelled = false;
    return one;
}

/// The skin and what leaves it, without the volume of the whole.
struct Parted {
    SkinResult result;
    std::vector<Group> groups;
};

Parted part(const Plan& plan, const std::vector<Cut>& all) {
    const std::optional<Contour> inner_edge = break_contour(plan.body);
    std::vector<bool> left(groups_of(plan, all).size(), false);
    ContourTree tree;
    Columns columns;
    // Each round at least one more group leaves, so it ends.
    for (;;) {
        tree = contour_tree(plan, all, inner_edge, left);
        columns = columns_of(plan, all, tree);
        if (columns.unfit.empty()) break;
        for (const std::size_t group : columns.unfit) left[group] = true;
    }
    Parted parted{{}, tree.groups};
    parted.result.skin = faces_of(plan, all, tree, columns);
    parted.result.edge_break_left_out = plan.body.edge_break_modelled && !inner_edge;
    for (const Group& group : parted.groups) {
        if (group.in_skin) continue;
        for (const std::size_t c : group.cuts) parted.result.overlapping.push_back(all[c]);
        if (group.kind == Group::Kind::raised)
            parted.result.overlapping_raised.push_back(plan.raised[group.raised]);
    }
    return parted;
}

/// Metal that a group alone would take from the bare slab; nothing when it does not lie wholly within the
/// outline.
std::optional<double> taken_alone_mm3(const Plan& plan, const std::vector<Cut>& all, const Group& group) {
    const Cut& first = all[group.cuts.front()];
    const Plan one = first.role == CutRole::pocket ? only_pocket(plan, first) : only_hole(plan, first.owner);
    const SkinResult alone = part(one, cuts(one)).result;
    if (!alone.overlapping.empty()) return {};
    return plan.body.outline.area_mm2() * plan.body.thickness_mm - alone.skin.volume_mm3;
}

bool is_under_raised(const Plan& plan, const Cut& cut) {
    return std::any_of(plan.raised.begin(), plan.raised.end(), [&cut](const Raised& ring) {
        const bool reaches = ring.side == Side::A ? cut.opens_a : cut.opens_b;
        return reaches && relation(cut.area.outer, ring.outer) != Relation::apart;
    });
}

/// Whether a group meets no other cut in space and no raised metal, so that its own volume simply comes off.
bool stands_alone(const Plan& plan, const std::vector<Cut>& all, const Group& group) {
    for (const std::size_t c : group.cuts) {
        if (is_under_raised(plan, all[c])) return false;
        for (std::size_t other = 0; other < all.size(); ++other) {
            if (std::find(group.cuts.begin(), group.cuts.end(), other) != group.cuts.end()) continue;
            if (gap(all[c], all[other]).distance_mm < same_point_mm) return false;
        }
    }
    return true;
}

std::optional<double> whole_volume_mm3(const Plan& plan, const std::vector<Cut>& all,
                                       const SkinResult& result, const std::vector<Group>& groups) {
    double volume_mm3 = result.skin.volume_mm3;
    for (const Group& group : groups) {
        if (group.in_skin) continue;
        if (group.kind == Group::Kind::raised || plan.body.edge_break_modelled ||
            !stands_alone(plan, all, group))
            return {};
        const auto taken = taken_alone_mm3(plan, all, group);
        if (!taken) return {};
        volume_mm3 -= *taken;
    }
    return volume_mm3;
}

}  // namespace

SkinResult skin(const Plan& plan) {
    const std::vector<Cut> all = cuts(plan);
    Parted parted = part(plan, all);
    parted.result.volume_mm3 = whole_volume_mm3(plan, all, parted.result, parted.groups);
    return std::move(parted.result);
}

}  // namespace fitup::plan
