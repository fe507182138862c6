#include "plan/skin.hpp"

#include <algorithm>
#include <cmath>

#include "plan/prism_sum.hpp"
#include "plan/skin_faces.hpp"
#include "plan/skin_whole.hpp"
#include "plan/vector.hpp"

namespace fitup::plan {
namespace {

/// Whether edge `inner` is edge `outer` moved sideways: a parallel line, or an arc about the same centre.
bool is_parallel(const Edge& outer, Point outer_to, const Edge& inner, Point inner_to) {
    if (outer.arc.has_value() != inner.arc.has_value()) return false;
    if (outer.arc) {
        return outer.arc->turn == inner.arc->turn &&
               distance_mm(outer.arc->centre, inner.arc->centre) < same_point_mm;
    }
    const Point a = outer_to - outer.from;
    const Point b = inner_to - inner.from;
    return dot(a, b) > 0.0 && std::abs(cross(a, b)) < same_point_mm * length(a);
}

/// The inner loop with its edges in the order of the outline's; nothing where they don't answer to each
/// other.
std::optional<Contour> aligned(const Contour& outline, const Contour& inner) {
    const auto outer_edges = outline.edges();
    const auto inner_edges = inner.edges();
    const std::size_t count = outer_edges.size();
    if (inner_edges.size() != count) return std::nullopt;
    if (count == 0) return inner;
    for (std::size_t shift = 0; shift < count; ++shift) {
        std::vector<Edge> turned(inner_edges.begin(), inner_edges.end());
        std::rotate(turned.begin(), turned.begin() + static_cast<std::ptrdiff_t>(shift), turned.end());
        bool fits = true;
        for (std::size_t k = 0; fits && k < count; ++k) {
            const std::size_t next = (k + 1) % count;
            fits = is_parallel(outer_edges[k], outer_edges[next].from, turned[k], turned[next].from);
        }
        if (fits) return Contour(std::move(turned));
    }
    return std::nullopt;
}

/// The closed forms need a perimeter that changes linearly with the inset, as it does where all corners are
/// between lines or smooth: then the area between is that of a trapezium as long as the mean perimeter.
bool narrows_evenly(const Contour& outline, const Contour& inner, double size_mm) {
    const double trapezium = size_mm * (outline.perimeter_mm() + inner.perimeter_mm()) / 2;
    return std::abs(outline.area_mm2() - inner.area_mm2() - trapezium) < 1e-9 * trapezium;
}

/// The outline on the faces under a modelled edge break; nothing where it can't be.
std::optional<Contour> broken_outline(const Slab& body, double size_mm) {
    if (2 * size_mm > body.thickness_mm + same_point_mm) return std::nullopt;
    const std::vector<Contour> loops = inset(body.outline, size_mm);
    if (loops.size() != 1) return std::nullopt;
    std::optional<Contour> inner = aligned(body.outline, loops.front());
    if (inner && !narrows_evenly(body.outline, *inner, size_mm)) return std::nullopt;
    return inner;
}

}  // namespace

Parted part_skin(const Stock& stock) {
    Layout layout = lay_out(stock);
    choose(layout, stock);
    const Regions regions = build_regions(layout, stock);
    Parted parted;
    parted.result.skin = build_faces(layout, stock, regions);
    measure(parted.result.skin, layout, stock, regions);
    for (const Item& item : layout.items) {
        if (item.in_skin) continue;
        if (item.kind == Item::Kind::raised)
            parted.result.overlapping_raised.push_back(stock.raised[item.index]);
        if (item.kind != Item::Kind::cut) continue;
        parted.result.overlapping.push_back(stock.cuts[item.index]);
        parted.left.push_back(item.index);
    }
    return parted;
}

SkinResult skin(const Plan& plan) {
    const std::vector<Cut> all = cuts(plan);
    Stock stock{plan.body.outline, plan.body.thickness_mm, 0.0, std::nullopt, plan.raised, all};
    const bool is_broken =
        plan.body.edge_break_modelled && plan.body.edge_break_mm.value_or(0.0) > same_point_mm;
    if (is_broken) {
        stock.broken_outline = broken_outline(plan.body, *plan.body.edge_break_mm);
        if (stock.broken_outline) stock.edge_break_mm = *plan.body.edge_break_mm;
    }
    Parted parted = part_skin(stock);
    parted.result.volume_mm3 = whole_volume_mm3(stock, parted);
    if (!parted.result.overlapping_raised.empty()) {
        if (const auto prisms = prism_sum(plan)) parted.result.volume_mm3 = volume_mm3(*prisms);
    }
    parted.result.edge_break_left_out = is_broken && !stock.broken_outline;
    return std::move(parted.result);
}

}  // namespace fitup::plan
