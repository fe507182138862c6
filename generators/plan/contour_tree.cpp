#include "plan/contour_tree.hpp"

#include <algorithm>
#include <limits>
#include <numeric>

namespace fitup::plan {

namespace {

constexpr std::size_t no_group = std::numeric_limits<std::size_t>::max();

/// A contour as some feature has it; several may be the same curve.
struct Instance {
    enum class Role { outline, edge_break, cut_outer, cut_island, raised_outer, raised_inner };
    const Contour* contour = nullptr;
    Role role = Role::outline;
    std::size_t of = 0;  ///< cut or raised
    std::size_t group = no_group;
};

struct Nesting {
    std::size_t inside = 0;
    std::size_t around = 0;
};

struct Pairs {
    std::vector<std::size_t> same_as;  ///< representative of each instance
    std::vector<Nesting> nested;
    std::vector<std::pair<std::size_t, std::size_t>> crossing;
};

std::vector<Instance> instances_of(const Plan& plan, const std::vector<Cut>& all,
                                   const std::optional<Contour>& break_contour,
                                   const std::vector<Group>& groups) {
    std::vector<Instance> list{{&plan.body.outline, Instance::Role::outline, 0, no_group}};
    if (break_contour) list.push_back({&*break_contour, Instance::Role::edge_break, 0, no_group});
    for (std::size_t g = 0; g < groups.size(); ++g) {
        if (!groups[g].in_skin) continue;
        for (const std::size_t c : groups[g].cuts) {
            list.push_back({&all[c].area.outer, Instance::Role::cut_outer, c, g});
            for (const Contour& island : all[c].area.islands)
                list.push_back({&island, Instance::Role::cut_island, c, g});
        }
        if (groups[g].kind != Group::Kind::raised) continue;
        const Raised& ring = plan.raised[groups[g].raised];
        list.push_back({&ring.outer, Instance::Role::raised_outer, groups[g].raised, g});
        for (const Contour& inner : ring.inner)
            list.push_back({&inner, Instance::Role::raised_inner, groups[g].raised, g});
    }
    return list;
}

std::size_t root_of(std::vector<std::size_t>& parents, std::size_t i) {
    while (parents[i] != i) i = parents[i] = parents[parents[i]];
    return i;
}

/// Relations of all pairs whose boxes overlap, found by a sweep along x.
Pairs relations_of(const std::vector<Instance>& list) {
    Pairs pairs;
    pairs.same_as.resize(list.size());
    std::iota(pairs.same_as.begin(), pairs.same_as.end(), std::size_t{0});
    std::vector<Box2> boxes;
    for (const Instance& instance : list) boxes.push_back(instance.contour->box());
    std::vector<std::size_t> order(pairs.same_as);
    std::sort(order.begin(), order.end(),
              [&boxes](std::size_t a, std::size_t b) { return boxes[a].least.x_mm < boxes[b].least.x_mm; });
    for (std::size_t a = 0; a < order.size(); ++a) {
        const std::size_t i = order[a];
        for (std::size_t b = a + 1;
             b < order.size() && boxes[order[b]].least.x_mm <= boxes[i].most.x_mm + same_point_mm; ++b) {
            const std::size_t j = order[b];
            if (boxes[j].least.y_mm > boxes[i].most.y_mm + same_point_mm ||
                boxes[i].least.y_mm > boxes[j].most.y_mm + same_point_mm)
                continue;
            switch (relation(*list[i].contour, *list[j].contour)) {
                case Relation::apart:
                    break;
                case Relation::same:
                    pairs.same_as[root_of(pairs.same_as, i)] = root_of(pairs.same_as, j);
                    break;
                case Relation::first_inside_second:
                    pairs.nested.push_back({i, j});
                    break;
                case Relation::second_inside_first:
                    pairs.nested.push_back({j, i});
                    break;
                case Relation::crossing:
                    pairs.crossing.push_back({i, j});
                    break;
            }
        }
    }
    for (std::size_t i = 0; i < list.size(); ++i) pairs.same_as[i] = root_of(pairs.same_as, i);
    return pairs;
}

/// Pockets leave before holes, holes before the bore, and a raised ring last.
int reluctance(Group::Kind kind) {
    switch (kind) {
        case Group::Kind::pocket:
            return 1;
        case Group::Kind::hole:
            return 2;
        case Group::Kind::bore:
            return 3;
        case Group::Kind::raised:
            return 4;
    }
    return 5;
}

/// Marks groups until no two that stay cross each other: the one with most crossings first.
void part_crossing(std::vector<Group>& groups, const std::vector<Instance>& list, const Pairs& pairs) {
    std::vector<std::pair<std::size_t, std::size_t>> open;
    for (const auto& [i, j] : pairs.crossing) {
        const std::size_t a = list[i].group;
        const std::size_t b = list[j].group;
        // Only one of the two can leave: the other is the outline, or the same hole's other part.
        if (a == no_group || b == no_group || a == b)
            groups[a == no_group ? b : a].in_skin = false;
        else
            open.push_back({std::min(a, b), std::max(a, b)});
    }
    std::sort(open.begin(), open.end());
    open.erase(std::unique(open.begin(), open.end()), open.end());
    for (;;) {
        std::erase_if(open, [&groups](const auto& pair) {
            return !groups[pair.first].in_skin || !groups[pair.second].in_skin;
        });
        if (open.empty()) return;
        std::vector<std::size_t> crossings(groups.size(), 0);
        for (const auto& [a, b] : open) {
            ++crossings[a];
            ++crossings[b];
        }
        std::size_t worst = open.front().first;
        const auto weight = [&](std::size_t g) {
            return std::pair(-reluctance(groups[g].kind), crossings[g]);
        };
        for (std::size_t g = 0; g < groups.size(); ++g) {
            if (crossings[g] > 0 && weight(g) > weight(worst)) worst = g;
        }
        groups[worst].in_skin = false;
    }
}

void enter(PoolContour& pool, const Instance& instance) {
    switch (instance.role) {
        case Instance::Role::outline:
            pool.is_outline = true;
            break;
        case Instance::Role::edge_break:
            pool.is_break = true;
            break;
        case Instance::Role::cut_outer:
            pool.outer_of.push_back(instance.of);
            break;
        case Instance::Role::cut_island:
            pool.island_of.push_back(instance.of);
            break;
        case Instance::Role::raised_outer:
            pool.raised_outer.push_back(instance.of);
            break;
        case Instance::Role::raised_inner:
            pool.raised_inner.push_back(instance.of);
            break;
    }
}

/// Pool and parents from instances whose groups stay.
std::vector<PoolContour> pool_of(const std::vector<Instance>& list, const Pairs& pairs,
                                 const std::vector<Group>& groups) {
    constexpr std::size_t none = no_group;
    const auto stays = [&](std::size_t i) {
        return list[i].group == no_group || groups[list[i].group].in_skin;
    };
    std::vector<std::size_t> slot_of(list.size(), none);  // by representative
    std::vector<PoolContour> pool;
    std::vector<double> area_mm2;
    for (std::size_t i = 0; i < list.size(); ++i) {
        if (!stays(i)) continue;
        std::size_t& slot = slot_of[pairs.same_as[i]];
        if (slot == none) {
            slot = pool.size();
            pool.push_back({});
            pool.back().contour = *list[i].contour;
            area_mm2.push_back(pool.back().contour.area_mm2());
        }
        enter(pool[slot], list[i]);
    }
    for (const Nesting& nesting : pairs.nested) {
        if (!stays(nesting.inside) || !stays(nesting.around)) continue;
        PoolContour& inside = pool[slot_of[pairs.same_as[nesting.inside]]];
        const std::size_t around = slot_of[pairs.same_as[nesting.around]];
        if (!inside.parent || area_mm2[around] < area_mm2[*inside.parent]) inside.parent = around;
    }
    for (std::size_t i = 0; i < pool.size(); ++i) {
        if (pool[i].parent) pool[*pool[i].parent].children.push_back(i);
    }
    return pool;
}

}  // namespace

std::vector<Group> groups_of(const Plan& plan, const std::vector<Cut>& all) {
    std::vector<Group> groups;
    std::vector<std::size_t> of_hole(plan.holes.size(), no_group);
    for (std::size_t c = 0; c < all.size(); ++c) {
        if (all[c].role == CutRole::pocket) {
            groups.push_back({Group::Kind::pocket, {c}, 0, true});
            continue;
        }
        std::size_t& group = of_hole[all[c].owner];
        if (group == no_group) {
            group = groups.size();
            groups.push_back(
                {all[c].role == CutRole::bore ? Group::Kind::bore : Group::Kind::hole, {}, 0, true});
        }
        groups[group].cuts.push_back(c);
    }
    for (std::size_t r = 0; r < plan.raised.size(); ++r) groups.push_back({Group::Kind::raised, {}, r, true});
    return groups;
}

ContourTree contour_tree(const Plan& plan, const std::vector<Cut>& all,
                         const std::optional<Contour>& break_contour, const std::vector<bool>& left) {
    ContourTree tree;
    tree.groups = groups_of(plan, all);
    for (std::size_t g = 0; g < left.size(); ++g) {
        if (left[g]) tree.groups[g].in_skin = false;
    }
    const std::vector<Instance> list = instances_of(plan, all, break_contour, tree.groups);
    const Pairs pairs = relations_of(list);
    part_crossing(tree.groups, list, pairs);
    tree.contours = pool_of(list, pairs, tree.groups);
    return tree;
}

}  // namespace fitup::plan
