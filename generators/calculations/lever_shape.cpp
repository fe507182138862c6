#include "calculations/lever_shape.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "plan/joggle.hpp"
#include "plan/stroke.hpp"

namespace fitup::calculations {

namespace {

using plan::Point;

constexpr double pi = std::numbers::pi;

Vector at(Point point, double z_mm) { return {point.x_mm, point.y_mm, z_mm}; }

Round disc(Point centre, double radius_mm, double z_mm) { return {at(centre, z_mm), {0, 0, 1}, radius_mm}; }

/// The hull of flat points and discs, from one height to another.
Convex prism(const std::vector<Point>& points, const std::vector<plan::Circle>& discs, double low_mm,
             double high_mm) {
    Convex body;
    for (const double z_mm : {low_mm, high_mm}) {
        for (const Point& point : points) body.points.push_back(at(point, z_mm));
        for (const plan::Circle& circle : discs)
            body.rounds.push_back(disc(circle.centre, circle.radius_mm, z_mm));
    }
    enclose(body);
    return body;
}

Point on_circle(Point centre, double radius_mm, double angle_rad) {
    return {centre.x_mm + radius_mm * std::cos(angle_rad), centre.y_mm + radius_mm * std::sin(angle_rad)};
}

/// One edge of an outline with what lies between it and the origin.
class Wedges {
  public:
    Wedges(double low_mm, double high_mm, std::vector<Convex>& pieces)
        : low_mm_(low_mm), high_mm_(high_mm), pieces_(pieces) {}

    void add(const plan::Edge& edge, Point to) {
        if (!edge.arc) {
            pieces_.push_back(prism({{}, edge.from, to}, {}, low_mm_, high_mm_));
            return;
        }
        const Point centre = edge.arc->centre;
        const double radius_mm = plan::distance_mm(edge.from, centre);
        const double start = std::atan2(edge.from.y_mm - centre.y_mm, edge.from.x_mm - centre.x_mm);
        const double end = std::atan2(to.y_mm - centre.y_mm, to.x_mm - centre.x_mm);
        const bool bulges = edge.arc->turn == plan::Turn::anticlockwise;
        const double turned = std::remainder(bulges ? end - start : start - end, 2.0 * pi);
        const double sweep = turned > 0.0 ? turned : turned + 2.0 * pi;
        if (bulges)
            add_bulge(centre, radius_mm, start, sweep);
        else
            add_hollow(centre, radius_mm, start, sweep);
    }

  private:
    /// Quarter arcs at most, so that the hull of an arc and the origin stays within the outline.
    void add_bulge(Point centre, double radius_mm, double start, double sweep) {
        const int parts = std::max(1, int(std::ceil(sweep / (pi / 2.0))));
        for (int i = 0; i < parts; ++i) {
            const double from = start + sweep * i / parts, to = start + sweep * (i + 1) / parts;
            Convex body = prism({{}, on_circle(centre, radius_mm, from), on_circle(centre, radius_mm, to)},
                                {}, low_mm_, high_mm_);
            const double middle = (from + to) / 2.0;
            for (const double z_mm : {low_mm_, high_mm_})
                body.rounds.push_back({at(centre, z_mm),
                                       {0, 0, 1},
                                       radius_mm,
                                       {std::cos(middle), std::sin(middle), 0.0},
                                       std::cos((to - from) / 2.0)});
            enclose(body);
            pieces_.push_back(std::move(body));
        }
    }

    /// Chords of a hollow arc lie outside the metal, by `chord_within_mm` at most.
    void add_hollow(Point centre, double radius_mm, double start, double sweep) {
        const int parts = plan::chords_within(radius_mm, sweep, chord_within_mm);
        for (int i = 0; i < parts; ++i)
            pieces_.push_back(prism({{},
                                     on_circle(centre, radius_mm, start - sweep * i / parts),
                                     on_circle(centre, radius_mm, start - sweep * (i + 1) / parts)},
                                    {}, low_mm_, high_mm_));
    }

    double low_mm_, high_mm_;
    std::vector<Convex>& pieces_;
};

/// An outline that is seen whole from the origin, as a crank's is: belts round hub and eye with rounded
/// corners.
void add_star(const plan::Contour& outline, double low_mm, double high_mm, std::vector<Convex>& pieces) {
    if (const plan::Circle* circle = outline.circle()) {
        pieces.push_back(prism({}, {*circle}, low_mm, high_mm));
        return;
    }
    Wedges wedges(low_mm, high_mm, pieces);
    const auto edges = outline.edges();
    for (std::size_t i = 0; i < edges.size(); ++i) wedges.add(edges[i], edges[(i + 1) % edges.size()].from);
}

/// A convex ring's outside: its corners and its arcs' circles, of which a hull is made (an eye's boss: a
/// circle or a slot).
Convex convex_ring(const plan::Contour& outer, double low_mm, double high_mm) {
    if (const plan::Circle* circle = outer.circle()) return prism({}, {*circle}, low_mm, high_mm);
    std::vector<Point> points;
    std::vector<plan::Circle> discs;
    for (const plan::Edge& edge : outer.edges()) {
        points.push_back(edge.from);
        if (edge.arc) discs.push_back({edge.arc->centre, plan::distance_mm(edge.from, edge.arc->centre)});
    }
    return prism(points, discs, low_mm, high_mm);
}

std::vector<Convex> crank_shape(const plan::Plan& plan) {
    std::vector<Convex> pieces;
    const double thickness_mm = plan.body.thickness_mm;
    add_star(plan.body.outline, 0.0, thickness_mm, pieces);
    for (const plan::Raised& ring : plan.raised) {
        const bool below = ring.side == plan::Side::A;
        pieces.push_back(convex_ring(ring.outer, below ? -ring.height_mm : thickness_mm,
                                     below ? 0.0 : thickness_mm + ring.height_mm));
    }
    return pieces;
}

/// A slice of a bend or the straight between bends: its cross-section over the strip's whole width.
Convex slice(const std::vector<Point>& profile, double half_width_mm) {
    Convex body;
    for (const Point& point : profile) {
        for (const double y_mm : {-half_width_mm, half_width_mm})
            body.points.push_back({point.x_mm, y_mm, point.y_mm});
    }
    enclose(body);
    return body;
}

/// One bend in slices. The outside corners of a slice stand on the tangents, so that it covers the metal.
void add_bend(Point centre, Point inner, Point outer, double turn_rad, double half_width_mm,
              std::vector<Convex>& pieces) {
    const double start = std::atan2(outer.y_mm - centre.y_mm, outer.x_mm - centre.x_mm);
    const double inside_mm = plan::distance_mm(inner, centre), outside_mm = plan::distance_mm(outer, centre);
    const int parts = plan::chords_within(outside_mm, turn_rad, chord_within_mm);
    const double step = turn_rad / parts;
    for (int i = 0; i < parts; ++i) {
        const double from = start + step * i, to = from + step;
        pieces.push_back(slice({on_circle(centre, inside_mm, from), on_circle(centre, inside_mm, to),
                                on_circle(centre, outside_mm, from), on_circle(centre, outside_mm, to),
                                on_circle(centre, outside_mm / std::cos(step / 2.0), (from + to) / 2.0)},
                               half_width_mm));
    }
}

void add_joggle(const plan::Plan& plan, std::vector<Convex>& pieces) {
    const plan::Joggle& joggle = *plan.body.joggle;
    const auto shape = plan::joggle_shape(joggle, plan.body.thickness_mm);
    if (!shape) return;
    const plan::JoggleProfile profile = plan::joggle_profile(joggle, plan.body.thickness_mm, *shape);
    const double half_mm = plan.arm->strip_width_mm / 2.0;
    for (const std::size_t bend : {std::size_t(0), std::size_t(1)}) {
        const Point centre = profile.centre[bend];
        Point inner = profile.lower[2 * bend], outer = profile.upper[2 * bend];
        if (plan::distance_mm(inner, centre) > plan::distance_mm(outer, centre)) std::swap(inner, outer);
        const Point end = plan::distance_mm(profile.lower[2 * bend + 1], centre) <
                                  plan::distance_mm(profile.upper[2 * bend + 1], centre)
                              ? profile.upper[2 * bend + 1]
                              : profile.lower[2 * bend + 1];
        const double turn = std::remainder(std::atan2(end.y_mm - centre.y_mm, end.x_mm - centre.x_mm) -
                                               std::atan2(outer.y_mm - centre.y_mm, outer.x_mm - centre.x_mm),
                                           2.0 * pi);
        add_bend(centre, inner, outer, turn, half_mm, pieces);
    }
    pieces.push_back(
        slice({profile.lower[1], profile.lower[2], profile.upper[1], profile.upper[2]}, half_mm));
}

/// The metal round the pivot's bore: the strip's own end, a boss, a clamp's lugs.
void add_pivot_end(const plan::Plan& plan, std::vector<Convex>& pieces) {
    const plan::Arm& arm = *plan.arm;
    double height_mm = plan.body.thickness_mm;
    for (const plan::Raised& ring : plan.raised) height_mm += ring.height_mm;
    if (arm.boss_diameter_mm > 0.0)
        pieces.push_back(prism({}, {{{}, arm.boss_diameter_mm / 2.0}}, 0.0, height_mm));
    if (!arm.clamp) return;
    const double half_mm = arm.clamp->lug_width_mm / 2.0, end_mm = -arm.clamp->lug_end_mm;
    const bool is_wider = half_mm > std::max(arm.boss_diameter_mm, arm.strip_width_mm) / 2.0 + 1e-6;
    // From the outline's own corners: exact with their rounding. Lugs no wider than the pivot's metal start
    // at its widest place, on the Y axis.
    std::vector<plan::Circle> corners;
    std::vector<Point> points;
    for (const plan::Edge& edge : plan.body.outline.edges()) {
        const bool on_lug = std::abs(edge.from.y_mm) > half_mm - 1e-6 && (is_wider || edge.from.x_mm <= 1e-6);
        if (on_lug) points.push_back(edge.from);
        if (edge.arc && edge.arc->centre.x_mm < 0.0 && edge.from.x_mm < 0.0 &&
            std::abs(plan::distance_mm(edge.from, edge.arc->centre) + end_mm - edge.arc->centre.x_mm) < 1e-6)
            corners.push_back({edge.arc->centre, plan::distance_mm(edge.from, edge.arc->centre)});
    }
    pieces.push_back(prism(points, corners, 0.0, height_mm));
}

std::vector<Convex> arm_shape(const plan::Plan& plan) {
    std::vector<Convex> pieces;
    const plan::Arm& arm = *plan.arm;
    const double half_mm = arm.strip_width_mm / 2.0, thickness_mm = plan.body.thickness_mm;
    const plan::Circle pivot_end{{}, half_mm};
    const plan::Circle far_end{{plan.body.outline.box().most.x_mm - half_mm, 0.0}, half_mm};
    if (!plan.body.joggle) {
        pieces.push_back(prism({}, {pivot_end, far_end}, 0.0, thickness_mm));
    } else {
        const plan::Joggle& joggle = *plan.body.joggle;
        const double end_mm = joggle.start_mm + joggle.run_mm;
        pieces.push_back(
            prism({{joggle.start_mm, -half_mm}, {joggle.start_mm, half_mm}}, {pivot_end}, 0.0, thickness_mm));
        add_joggle(plan, pieces);
        pieces.push_back(prism({{end_mm, -half_mm}, {end_mm, half_mm}}, {far_end}, joggle.rise_mm,
                               joggle.rise_mm + thickness_mm));
    }
    add_pivot_end(plan, pieces);
    return pieces;
}

bool has_hollow_arc(const plan::Contour& outline) {
    const auto edges = outline.edges();
    return std::any_of(edges.begin(), edges.end(), [](const plan::Edge& edge) {
        return edge.arc && edge.arc->turn == plan::Turn::clockwise;
    });
}

}  // namespace

LeverShape lever_shape(const plan::Plan& plan) {
    if (plan.arm) return {arm_shape(plan), plan.body.joggle ? chord_within_mm : 0.0};
    return {crank_shape(plan), has_hollow_arc(plan.body.outline) ? chord_within_mm : 0.0};
}

}  // namespace fitup::calculations
