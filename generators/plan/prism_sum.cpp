#include "plan/prism_sum.hpp"

#include <algorithm>

#include "plan/cuts.hpp"

namespace fitup::plan {

namespace {

bool are_apart(const Contour& a, const Contour& b) { return relation(a, b) == Relation::apart; }

bool is_plain(const Raised& ring, const Plan& plan) {
    return lies_within(ring.outer, plan.body.outline) &&
           std::all_of(plan.raised.begin(), plan.raised.end(), [&](const Raised& other) {
               return &other == &ring || other.side != ring.side || are_apart(other.outer, ring.outer);
           });
}

/// How much metal a cut through a face finds standing on it; nothing where it stands across a ring's edge.
std::optional<double> above_face_mm(const Cut& cut, Side side, const Plan& plan) {
    double height_mm = 0.0;
    for (const Raised& ring : plan.raised) {
        if (ring.side != side || are_apart(cut.area.outer, ring.outer)) continue;
        if (!ring.inner.empty() || relation(cut.area.outer, ring.outer) != Relation::first_inside_second)
            return {};
        height_mm += ring.height_mm;
    }
    return height_mm;
}

std::optional<Prism> taken(const Cut& cut, const Plan& plan) {
    if (cut.cone || relation(cut.area.outer, plan.body.outline) != Relation::first_inside_second) return {};
    const auto below_mm = cut.opens_a ? above_face_mm(cut, Side::A, plan) : 0.0;
    const auto above_mm = cut.opens_b ? above_face_mm(cut, Side::B, plan) : 0.0;
    if (!below_mm || !above_mm) return {};
    return Prism{cut.area, -(cut.z_high_mm - cut.z_low_mm + *below_mm + *above_mm)};
}

bool meets_another(const Cut& cut, const std::vector<Cut>& all) {
    return std::any_of(all.begin(), all.end(), [&](const Cut& other) {
        return &other != &cut && !are_apart(cut.area.outer, other.area.outer);
    });
}

}  // namespace

std::optional<std::vector<Prism>> prism_sum(const Plan& plan) {
    if (!is_prism(plan) || plan.body.edge_break_modelled) return {};
    std::vector<Prism> prisms{{{plan.body.outline, {}}, plan.body.thickness_mm}};
    for (const Raised& ring : plan.raised) {
        if (!is_plain(ring, plan)) return {};
        prisms.push_back({{ring.outer, ring.inner}, ring.height_mm});
    }
    const std::vector<Cut> all = cuts(plan);
    for (const Cut& cut : all) {
        const auto prism = taken(cut, plan);
        if (!prism || meets_another(cut, all)) return {};
        prisms.push_back(*prism);
    }
    return prisms;
}

double volume_mm3(const std::vector<Prism>& prisms) {
    double sum = 0.0;
    for (const Prism& prism : prisms) sum += area_mm2(prism.area) * prism.height_mm;
    return sum;
}

double axial_moment_mm5(const std::vector<Prism>& prisms) {
    double sum = 0.0;
    for (const Prism& prism : prisms) {
        double moment = polar_moment_mm4(prism.area.outer, {});
        for (const Contour& island : prism.area.islands) moment -= polar_moment_mm4(island, {});
        sum += moment * prism.height_mm;
    }
    return sum;
}

}  // namespace fitup::plan
