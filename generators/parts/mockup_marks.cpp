#include "parts/mockup_marks.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "plan/lettering.hpp"
#include "plan/seen_from.hpp"
#include "plan/stroke.hpp"
#include "plan/vector.hpp"

namespace fitup::parts {

namespace {

using plan::Contour;
using plan::Point;

constexpr double full_turn_rad = 2.0 * std::numbers::pi;
/// Between marks, and from a mark to an edge: a nozzle's width.
constexpr double apart_mm = 0.5;
constexpr double dash_mm = 4.0, blank_mm = 2.5;
constexpr double least_ledge_mm = 8.0;
/// Letters bolder than this run into each other.
constexpr double boldest_stroke = 0.15;

Point on_circle(Point centre, double radius_mm, double angle_rad) {
    return centre + Point{std::cos(angle_rad), std::sin(angle_rad)} * radius_mm;
}

/// A stretch of a stroke, as wide as a letter's.
Contour band(const plan::Stroke& stroke, double from_share, double to_share) {
    const plan::Stroke part = plan::part_of(stroke, from_share, to_share);
    const double half_mm = stroke_mm / 2.0;
    if (part.is_line()) {
        const Point aside = plan::left_of(plan::unit(part.to - part.from)) * half_mm;
        return Contour(std::vector<plan::Edge>{
            {part.from - aside, {}}, {part.to - aside, {}}, {part.to + aside, {}}, {part.from + aside, {}}});
    }
    const plan::Stroke left = part.sweep_rad > 0.0 ? part : plan::reversed(part);
    const double from_rad = std::atan2(left.from.y_mm - left.centre.y_mm, left.from.x_mm - left.centre.x_mm);
    return outline_of({left.centre, left.radius_mm - half_mm, left.radius_mm + half_mm, from_rad,
                       from_rad + left.sweep_rad});
}

/// With chords in place of arcs: a nozzle can't follow an arc that small, and the fewer corners the better.
Contour straight(const Contour& contour) {
    if (const plan::Circle* dot = contour.circle())
        return plan::rectangle(dot->centre, 2.0 * dot->radius_mm, 2.0 * dot->radius_mm, 0.0, {});
    constexpr double most_rad = std::numbers::pi / 2.0;
    std::vector<plan::Edge> edges;
    for (const plan::Stroke& stroke : plan::strokes_of(contour)) {
        const int count = std::max(1, int(std::ceil(std::abs(stroke.sweep_rad) / most_rad - 1e-9)));
        for (int i = 0; i < count; ++i) edges.push_back({plan::point_at(stroke, double(i) / count), {}});
    }
    return Contour(std::move(edges));
}

/// Rounder than this a band would cross itself.
bool can_be_dashed(const plan::Stroke& stroke) { return stroke.is_line() || stroke.radius_mm > stroke_mm; }

std::vector<Contour> dashes_of(const Contour& curve) {
    std::vector<Contour> dashes;
    for (const plan::Stroke& stroke : plan::strokes_of(curve)) {
        const double whole_mm = plan::length_mm(stroke);
        if (!can_be_dashed(stroke) || whole_mm < 1.0) continue;
        const double count = std::max(1.0, std::round(whole_mm / (dash_mm + blank_mm)));
        const double share = dash_mm / (dash_mm + blank_mm) / count;
        for (double i = 0.0; i < count; ++i) {
            const double middle = (i + 0.5) / count;
            dashes.push_back(straight(band(stroke, middle - share / 2.0, middle + share / 2.0)));
        }
    }
    return dashes;
}

/// Runs of free angles as sectors of the ring.
std::vector<Sector> free_sectors(const LedgeRing& ring, const Room& room) {
    const double radius_mm = ring.outside.radius_mm, half_mm = ring.width_mm / 2.0;
    const int steps = std::clamp(int(full_turn_rad * radius_mm / 1.0), 36, 2880);
    const auto angle_of = [steps](int i) { return full_turn_rad * i / steps; };
    std::vector<bool> is_free;
    for (int i = 0; i < steps; ++i)
        is_free.push_back(room.is_free(
            Contour(plan::Circle{on_circle(ring.outside.centre, radius_mm - half_mm, angle_of(i)), half_mm}),
            apart_mm));
    Sector whole{ring.outside.centre, radius_mm - ring.width_mm, radius_mm, 0.0, full_turn_rad};
    const auto blocked = std::find(is_free.begin(), is_free.end(), false);
    if (blocked == is_free.end()) return {whole};
    const int start = int(blocked - is_free.begin());
    std::vector<Sector> sectors;
    for (int i = start, first = -1; i <= start + steps; ++i) {
        const bool here = is_free[std::size_t(i % steps)];
        if (here && first < 0) first = i;
        if (here || first < 0) continue;
        Sector sector = whole;
        sector.from_rad = angle_of(first);
        sector.to_rad = angle_of(i - 1);
        if ((sector.to_rad - sector.from_rad) * radius_mm >= least_ledge_mm) sectors.push_back(sector);
        first = -1;
    }
    return sectors;
}

plan::Raised raised_of(const LedgeRing& ring, const Sector& sector, std::size_t number) {
    plan::Raised ledge{
        ring.id + "-ledge-" + std::to_string(number), ring.side, outline_of(sector), {}, ring.height_mm};
    if (sector.to_rad - sector.from_rad >= full_turn_rad)
        ledge.inner.emplace_back(plan::Circle{sector.centre, sector.inside_mm});
    return ledge;
}

double share_of(double height_mm) { return std::min(boldest_stroke, stroke_mm / height_mm); }

}  // namespace

Contour outline_of(const Sector& sector) {
    if (sector.to_rad - sector.from_rad >= full_turn_rad)
        return Contour(plan::Circle{sector.centre, sector.outside_mm});
    const auto at = [&](double radius_mm, double angle_rad) {
        return on_circle(sector.centre, radius_mm, angle_rad);
    };
    const plan::Arc outwards{sector.centre, plan::Turn::anticlockwise};
    const plan::Arc back{sector.centre, plan::Turn::clockwise};
    return Contour(std::vector<plan::Edge>{{at(sector.inside_mm, sector.from_rad), {}},
                                           {at(sector.outside_mm, sector.from_rad), outwards},
                                           {at(sector.outside_mm, sector.to_rad), {}},
                                           {at(sector.inside_mm, sector.to_rad), back}});
}

void add_ledges(const Flat& flat, Room& room, plan::Plan& plan) {
    for (const LedgeRing& ring : flat.ledges) {
        for (const Sector& sector : free_sectors(ring, room)) {
            plan.raised.push_back(raised_of(ring, sector, plan.raised.size() + 1));
            room.take_edge(plan.raised.back().outer);
            for (const Contour& inner : plan.raised.back().inner) room.take_edge(inner);
        }
    }
}

void add_dashes(const Flat& flat, Room& room, plan::Plan& plan) {
    for (const MarkedCurve& marked : flat.marked) {
        std::vector<plan::Area> areas;
        for (const Contour& dash : dashes_of(marked.curve)) {
            if (!room.is_free(dash, apart_mm)) continue;
            room.take(dash);
            areas.push_back({dash, {}});
        }
        sink(marked.side, std::move(areas), plan);
    }
}

double width_mm(const Label& label) {
    return plan::lettering_width_mm(label.text, label.height_mm, share_of(label.height_mm));
}

plan::Box2 box_about(Point middle, double width_mm, double height_mm) {
    const Point half{width_mm / 2.0, height_mm / 2.0};
    return {middle - half, middle + half};
}

Contour box_of(const Label& label) {
    return plan::rectangle(label.middle, width_mm(label), label.height_mm, 0.0, {});
}

void add_label(const Label& label, Room& room, plan::Plan& plan) {
    std::vector<plan::Area> areas;
    for (const plan::Area& area : plan::lettering(label.text, label.height_mm, share_of(label.height_mm))) {
        const auto place = [&](const Contour& contour) {
            return plan::moved(plan::seen_from(label.side, straight(contour)), {}, label.middle);
        };
        plan::Area placed{place(area.outer), {}};
        for (const Contour& island : area.islands) placed.islands.push_back(place(island));
        areas.push_back(std::move(placed));
    }
    sink(label.side, std::move(areas), plan);
    room.take(box_of(label));
}

void sink(plan::Side side, std::vector<plan::Area> areas, plan::Plan& plan) {
    if (areas.empty()) return;
    plan::Pocket pocket;
    pocket.id = "mark-" + std::to_string(plan.pockets.size() + 1);
    pocket.kind = plan::PocketKind::mark;
    pocket.side = side;
    pocket.depth_mm = sunk_mm;
    pocket.areas = std::move(areas);
    plan.pockets.push_back(std::move(pocket));
}

}  // namespace fitup::parts
