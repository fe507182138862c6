#include "rules/subject.hpp"

#include <algorithm>
#include <numeric>

#include "plan/vector.hpp"
#include "rules/doubt.hpp"
#include "rules/wording.hpp"

namespace fitup::rules {

namespace {

constexpr double web_share_of_diameter = 0.25;  ///< common practice, no source
constexpr double floor_share_of_bolt = 0.5;     ///< common practice, no source

plan::Box box_of(const plan::Cut& cut) {
    const plan::Box2 flat = cut.area.outer.box();
    return {{flat.least.x_mm, flat.least.y_mm, cut.z_low_mm},
            {flat.most.x_mm, flat.most.y_mm, cut.z_high_mm}};
}

void grow(plan::Box& box, const plan::Box& by) {
    for (std::size_t axis = 0; axis < 3; ++axis) {
        box.least[axis] = std::min(box.least[axis], by.least[axis]);
        box.most[axis] = std::max(box.most[axis], by.most[axis]);
    }
}

void grow(plan::Box& box, double by_mm) {
    for (std::size_t axis = 0; axis < 3; ++axis) {
        box.least[axis] -= by_mm;
        box.most[axis] += by_mm;
    }
}

bool overlap(const plan::Box& a, const plan::Box& b) {
    for (std::size_t axis = 0; axis < 3; ++axis) {
        if (a.most[axis] < b.least[axis] || b.most[axis] < a.least[axis]) return false;
    }
    return true;
}

Lie lie_of(const plan::Circle& circle, const Boundary& edge) {
    const double depth_mm = edge.ask(circle.centre).depth_mm;
    if (depth_mm >= circle.radius_mm + plan::same_point_mm) return Lie::inside;
    return depth_mm <= -circle.radius_mm - plan::same_point_mm ? Lie::apart : Lie::crossing;
}

Lie lie_of(plan::Relation relation) {
    if (relation == plan::Relation::apart) return Lie::apart;
    const bool is_inside =
        relation == plan::Relation::first_inside_second || relation == plan::Relation::same;
    return is_inside ? Lie::inside : Lie::crossing;
}

double greatest_step(const Limit& limit) {
    return std::max({limit.note.value_or(0.0), limit.warn.value_or(0.0), limit.stop.value_or(0.0)});
}

}  // namespace

Subject::Subject(const plan::Plan& plan)
    : plan_(plan),
      limits_(plan.rule_overrides),
      outline_(plan.body.outline),
      cuts_(plan::cuts(plan)),
      edges_(cuts_.size()) {
    add_owners();
    find_neighbours();
    find_pockets_at_holes();
}

void Subject::add_owners() {
    for (std::size_t i = 0; i < cuts_.size(); ++i) {
        const bool is_pocket = cuts_[i].role == plan::CutRole::pocket;
        if (is_pocket) edges_[i].emplace(cuts_[i].area);
        const bool is_new = owners_.empty() || owners_.back().is_pocket != is_pocket ||
                            owners_.back().index != cuts_[i].owner;
        if (is_new) owners_.push_back({is_pocket, cuts_[i].owner, cuts_[i].id, i, 0, box_of(cuts_[i])});
        owners_.back().cut_count += 1;
        grow(owners_.back().box, box_of(cuts_[i]));
    }
}

/// Half of what any wall or floor rule can ask between this owner and another: boxes grown by it overlap
/// whenever a rule may speak.
double Subject::reach_mm(const Owner& owner) const {
    const double web_mm = greatest_step(web_limit(*this, owner, owner));
    const double floor_mm = greatest_step(recess_floor_limit(*this, owner));
    const double hole_floor_mm = greatest_step(limits_.of("hole-floor"));
    const double doubt = owner.is_pocket ? 0.0 : doubt_mm(plan_.holes[owner.index]);
    return std::max({web_mm, floor_mm, hole_floor_mm}) + doubt;
}

/// Sorted by their least x, each box is compared with those that have begun and not ended.
void Subject::find_neighbours() {
    std::vector<plan::Box> boxes;
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < owners_.size(); ++i) {
        boxes.push_back(owners_[i].box);
        grow(boxes.back(), reach_mm(owners_[i]));
        const bool is_mark =
            owners_[i].is_pocket && plan_.pockets[owners_[i].index].kind == plan::PocketKind::mark;
        if (!is_mark) order.push_back(i);
    }
    std::sort(order.begin(), order.end(), [&boxes](std::size_t a, std::size_t b) {
        return std::pair(boxes[a].least[0], a) < std::pair(boxes[b].least[0], b);
    });
    std::vector<std::size_t> open;
    for (const std::size_t here : order) {
        std::erase_if(open, [&](std::size_t other) { return boxes[other].most[0] < boxes[here].least[0]; });
        for (const std::size_t other : open) {
            if (overlap(boxes[here], boxes[other])) neighbours_.push_back(std::minmax(here, other));
        }
        open.push_back(here);
    }
    std::sort(neighbours_.begin(), neighbours_.end());
}

void Subject::find_pockets_at_holes() {
    pockets_at_hole_.resize(plan_.holes.size());
    for (const auto& [first, second] : neighbours_) {
        if (owners_[first].is_pocket || !owners_[second].is_pocket) continue;
        const plan::Contour& shaft = cuts_[owners_[first].first_cut].area.outer;
        const Owner& pocket = owners_[second];
        for (std::size_t i = pocket.first_cut; i < pocket.first_cut + pocket.cut_count; ++i) {
            const Lie lie = lie_in_pocket(shaft, i);
            if (lie != Lie::apart) pockets_at_hole_[owners_[first].index].push_back({i, lie});
        }
    }
}

Lie Subject::lie_in_outline(const plan::Contour& contour) const {
    if (contour.circle() != nullptr) return lie_of(*contour.circle(), outline_);
    return lie_of(plan::relation(contour, plan_.body.outline));
}

Lie Subject::lie_in_pocket(const plan::Contour& contour, std::size_t cut) const {
    if (contour.circle() != nullptr) return lie_of(*contour.circle(), *edges_[cut]);
    const plan::Area& area = cuts_[cut].area;
    Lie lie = lie_of(plan::relation(contour, area.outer));
    for (const plan::Contour& island : area.islands) {
        const plan::Relation relation = plan::relation(contour, island);
        if (relation == plan::Relation::first_inside_second || relation == plan::Relation::same)
            return Lie::apart;
        if (relation != plan::Relation::apart && lie == Lie::inside) lie = Lie::crossing;
    }
    return lie;
}

double Subject::rim_mm(const plan::Contour& contour) const {
    if (const plan::Circle* circle = contour.circle())
        return outline_.ask(circle->centre).depth_mm - circle->radius_mm;
    return plan::gap(contour, plan_.body.outline).distance_mm;
}

namespace {

/// A hole's share of the web limit; a bore's or pocket's size asks for nothing.
std::optional<double> proportion_mm(const Subject& subject, const Owner& owner) {
    if (owner.is_pocket) return std::nullopt;
    const plan::Hole& hole = subject.plan().holes[owner.index];
    if (hole.kind == plan::HoleKind::bore) return std::nullopt;
    return web_share_of_diameter * hole.diameter_mm;
}

}  // namespace

Limit web_limit(const Subject& subject, const Owner& first, const Owner& second) {
    Limit usual = Limits().of("web");
    const auto a = proportion_mm(subject, first);
    const auto b = proportion_mm(subject, second);
    if (a || b) usual.warn = std::max(*usual.warn, a && b ? std::min(*a, *b) : a ? *a : *b);
    return subject.limits().of("web", usual);
}

Limit recess_floor_limit(const Subject& subject, const Owner& owner) {
    Limit usual = Limits().of("recess-floor");
    if (!owner.is_pocket) {
        const plan::Hole& hole = subject.plan().holes[owner.index];
        if (hole.recess || hole.countersink)
            usual.warn = std::max(*usual.warn, floor_share_of_bolt * nominal_mm(hole));
    }
    return subject.limits().of("recess-floor", usual);
}

}  // namespace fitup::rules
