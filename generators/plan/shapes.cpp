// Contours that parameter files name: rectangles and slots; and contours moved or mirrored.
#include <algorithm>
#include <cmath>

#include "plan/contour.hpp"
#include "plan/vector.hpp"

namespace fitup::plan {

namespace {

Point placed(Point point, Angle turn, Point shift) {
    return Point{point.x_mm * turn.cos() - point.y_mm * turn.sin(),
                 point.x_mm * turn.sin() + point.y_mm * turn.cos()} +
           shift;
}

Point mirrored(Point point) { return {-point.x_mm, point.y_mm}; }

Contour sharp_rectangle(double x, double y) {
    return Contour(std::vector<Edge>{{{x, -y}, {}}, {{x, y}, {}}, {{-x, y}, {}}, {{-x, -y}, {}}});
}

Contour rounded_rectangle(double x, double y, double radius) {
    std::vector<Edge> edges;
    // Each corner by its centre and the way from there to the arc's start.
    const auto add_corner = [&](Point centre, Point start) {
        edges.push_back({centre + start, Arc{centre, Turn::anticlockwise}});
        edges.push_back({centre + left_of(start), {}});
    };
    add_corner({x - radius, y - radius}, {radius, 0.0});
    add_corner({radius - x, y - radius}, {0.0, radius});
    add_corner({radius - x, radius - y}, {-radius, 0.0});
    add_corner({x - radius, radius - y}, {0.0, -radius});
    return Contour(std::move(edges));
}

Contour centred_rectangle(double x, double y, double radius) {
    const Point middle{std::max(0.0, x - radius), std::max(0.0, y - radius)};
    if (radius < same_point_mm) return sharp_rectangle(x, y);
    // A side too short to be an edge is none: its two corners are one arc.
    if (2.0 * std::min(middle.x_mm, middle.y_mm) < same_point_mm)
        return slot(Point{} - middle, middle, 2.0 * radius);
    return rounded_rectangle(x, y, radius);
}

}  // namespace

Contour rectangle(Point centre, double width_mm, double height_mm, double corner_radius_mm, Angle turn) {
    const double x = 0.5 * width_mm;
    const double y = 0.5 * height_mm;
    return moved(centred_rectangle(x, y, std::min({corner_radius_mm, x, y})), turn, centre);
}

Contour slot(Point from, Point to, double width_mm) {
    const double radius = 0.5 * width_mm;
    if (distance_mm(from, to) < same_point_mm) return Contour(Circle{(from + to) * 0.5, radius});
    const Point side = left_of(unit(to - from)) * radius;
    return Contour(std::vector<Edge>{{from - side, {}},
                                     {to - side, Arc{to, Turn::anticlockwise}},
                                     {to + side, {}},
                                     {from + side, Arc{from, Turn::anticlockwise}}});
}

Contour moved(const Contour& contour, Angle turn, Point shift) {
    if (const Circle* round = contour.circle())
        return Contour(Circle{placed(round->centre, turn, shift), round->radius_mm});
    std::vector<Edge> edges(contour.edges().begin(), contour.edges().end());
    for (Edge& edge : edges) {
        edge.from = placed(edge.from, turn, shift);
        if (edge.arc) edge.arc->centre = placed(edge.arc->centre, turn, shift);
    }
    return Contour(std::move(edges));
}

Contour mirrored_x(const Contour& contour) {
    if (const Circle* round = contour.circle())
        return Contour(Circle{mirrored(round->centre), round->radius_mm});
    const auto edges = contour.edges();
    std::vector<Edge> result;
    // Walked backwards, each edge starts at what was its end; an arc's turn changes twice.
    for (std::size_t i = edges.size(); i-- > 0;) {
        Edge edge{mirrored(edges[(i + 1) % edges.size()].from), edges[i].arc};
        if (edge.arc) edge.arc->centre = mirrored(edge.arc->centre);
        result.push_back(edge);
    }
    return Contour(std::move(result));
}

}  // namespace fitup::plan
