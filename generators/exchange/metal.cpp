#include "exchange/metal.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "plan/near_pairs.hpp"

namespace fitup::exchange {

namespace {

constexpr double endless = std::numeric_limits<double>::infinity();

Span range_of(const plan::Cut& cut) {
    return {cut.opens_a ? -endless : cut.z_low_mm, cut.opens_b ? endless : cut.z_high_mm};
}

Span range_of(const plan::Raised& ring, double thickness_mm) {
    if (ring.side == plan::Side::A) return {-ring.height_mm, 0.0};
    return {thickness_mm, thickness_mm + ring.height_mm};
}

/// What a cone takes at a distance from its axis, without what it takes beyond a face.
Span taken_by_cone(const plan::Cut& cut, double radius_mm) {
    const auto [low_mm, high_mm] = *cut.cone;
    const double share = std::clamp((radius_mm - low_mm) / (high_mm - low_mm), 0.0, 1.0);
    const double z_mm = cut.z_low_mm + share * (cut.z_high_mm - cut.z_low_mm);
    return low_mm > high_mm ? Span{cut.z_low_mm, z_mm} : Span{z_mm, cut.z_high_mm};
}

void take(Spans& spans, const Span& taken) { spans = without(spans, {taken}); }

void take_cone(const plan::Cut& cut, const Probe& probe, Column& column) {
    if (cut.opens_a) take(column.metal, {-endless, cut.z_low_mm});
    if (cut.opens_b) take(column.metal, {cut.z_high_mm, endless});
    const plan::Point axis = cut.area.outer.circle()->centre;
    const double narrow_mm = std::min(cut.cone->radius_low_mm, cut.cone->radius_high_mm);
    const bool is_flat = plan::distance_mm(probe.inside, axis) < narrow_mm;
    const Span taken =
        is_flat ? Span{cut.z_low_mm, cut.z_high_mm} : taken_by_cone(cut, plan::distance_mm(probe.at, axis));
    const bool is_askew = !is_flat && plan::distance_mm(probe.about, axis) > plan::same_point_mm;
    if (is_askew && !within(column.metal, {cut.z_low_mm, cut.z_high_mm}).empty()) column.is_level = false;
    take(column.metal, taken);
}

}  // namespace

Spans without(const Spans& spans, const Spans& taken) {
    Spans rest = spans;
    for (const Span& gone : taken) {
        Spans left;
        for (const Span& span : rest) {
            const Span below{span.low_mm, std::min(span.high_mm, gone.low_mm)};
            const Span above{std::max(span.low_mm, gone.high_mm), span.high_mm};
            if (below.high_mm - below.low_mm > plan::same_point_mm) left.push_back(below);
            if (above.high_mm - above.low_mm > plan::same_point_mm) left.push_back(above);
        }
        rest = std::move(left);
    }
    return rest;
}

Spans within(const Spans& spans, const Span& range) {
    return without(spans, {{-endless, range.low_mm}, {range.high_mm, endless}});
}

void add_span(Spans& spans, const Span& span) {
    Span sum = span;
    std::erase_if(spans, [&sum](const Span& one) {
        if (one.low_mm > sum.high_mm + plan::same_point_mm || one.high_mm < sum.low_mm - plan::same_point_mm)
            return false;
        sum = {std::min(one.low_mm, sum.low_mm), std::max(one.high_mm, sum.high_mm)};
        return true;
    });
    const auto place =
        std::find_if(spans.begin(), spans.end(), [&sum](const Span& one) { return one.low_mm > sum.low_mm; });
    spans.insert(place, sum);
}

Metal::Metal(const plan::Plan& plan)
    : thickness_mm_(plan.body.thickness_mm),
      edge_break_mm_(plan.body.edge_break_modelled ? plan.body.edge_break_mm.value_or(0.0) : 0.0) {
    add_item(Item::Kind::slab, "outline", {0.0, thickness_mm_}, {plan.body.outline, {}}, std::nullopt);
    for (const plan::Raised& ring : plan.raised)
        add_item(Item::Kind::ring, ring.id, range_of(ring, thickness_mm_), {ring.outer, ring.inner},
                 std::nullopt);
    for (const plan::Cut& cut : plan::cuts(plan))
        add_item(Item::Kind::cut, cut.id, range_of(cut), cut.area, cut);
    find_near();
}

void Metal::add_item(Item::Kind kind, const std::string& id, const Span& range, const plan::Area& area,
                     std::optional<plan::Cut> cut) {
    const auto add_edge = [this](const plan::Contour& contour, bool is_island) {
        edges_.push_back({contour, items_.size(), is_island, plan::strokes_of(contour), contour.box()});
    };
    add_edge(area.outer, false);
    for (const plan::Contour& island : area.islands) add_edge(island, true);
    items_.push_back({kind, id, range, std::move(cut)});
}

void Metal::find_near() {
    near_.resize(edges_.size());
    std::vector<plan::Box2> boxes;
    for (const Edge& edge : edges_) boxes.push_back(edge.box);
    for (std::size_t k = 0; k < edges_.size(); ++k) near_[k].push_back(k);
    plan::any_near_pair(boxes, 2.0 * beside_mm, [this](std::size_t i, std::size_t j) {
        near_[i].push_back(j);
        near_[j].push_back(i);
        return false;
    });
    for (std::vector<std::size_t>& list : near_) std::sort(list.begin(), list.end());
}

Column Metal::column(std::size_t edge, const Probe& probe) const {
    Column column;
    const std::vector<std::size_t>& near = near_[edge];
    // Edges come item by item, so those of one item stand together.
    for (std::size_t i = 0; i < near.size();) {
        const std::size_t item = edges_[near[i]].item;
        bool is_in = false;
        for (; i < near.size() && edges_[near[i]].item == item; ++i) {
            const Edge& one = edges_[near[i]];
            if (one.is_island && !is_in) continue;
            if (one.contour.contains(probe.inside)) is_in = !one.is_island;
        }
        if (is_in) apply(items_[item], probe, column);
    }
    return column;
}

void Metal::apply(const Item& item, const Probe& probe, Column& column) const {
    switch (item.kind) {
        case Item::Kind::slab:
            add_slab(probe, column);
            break;
        case Item::Kind::ring:
            add_span(column.metal, item.range);
            break;
        case Item::Kind::cut:
            if (item.cut->cone)
                take_cone(*item.cut, probe, column);
            else
                take(column.metal, item.range);
            break;
    }
}

void Metal::add_slab(const Probe& probe, Column& column) const {
    const double in_slope_mm =
        edge_break_mm_ > 0.0 ? edge_break_mm_ - edges_.front().contour.distance_to_mm(probe.at) : 0.0;
    const double lost_mm = std::max(0.0, in_slope_mm);
    column.is_level = lost_mm == 0.0;
    add_span(column.metal, {lost_mm, thickness_mm_ - lost_mm});
}

}  // namespace fitup::exchange
