#pragma once

#include <memory>
#include <optional>
#include <span>
#include <variant>
#include <vector>

#include "base/angle.hpp"

namespace fitup::plan {

struct Point {
    double x_mm = 0.0;
    double y_mm = 0.0;
    friend bool operator==(const Point&, const Point&) = default;
};

double distance_mm(Point a, Point b);

struct Circle {
    Point centre;
    double radius_mm = 0.0;
};

enum class Turn { anticlockwise, clockwise };

/// How an edge leaves its start: straight, or on a circle about `centre`.
struct Arc {
    Point centre;
    Turn turn = Turn::anticlockwise;
};

/// One edge of a path; it ends where the next one (or the first) starts. No `arc` means a straight line.
struct Edge {
    Point from;
    std::optional<Arc> arc;
};

struct Box2 {
    Point least;
    Point most;
};

struct Stroke;

/// A closed plane curve without self-crossing, inside on its left (anticlockwise): a circle, or lines and
/// arcs.
///
/// Positions in mm in the part's frame. Immutable; a copy shares its edges.
class Contour {
  public:
    explicit Contour(Circle circle) : shape_(circle) {}
    /// @param edges  at least two, anticlockwise, no two starts nearer than `same_point_mm`; an arc's ends
    /// equally far
    ///               from its centre.
    explicit Contour(std::vector<Edge> edges);

    /// Nothing when the contour is a path.
    const Circle* circle() const { return std::get_if<Circle>(&shape_); }
    /// Empty when the contour is a circle.
    std::span<const Edge> edges() const;
    /// The edges with both their ends (plan/stroke.hpp), and the box of each; empty when the contour is a
    /// circle.
    std::span<const Stroke> strokes() const;
    std::span<const Box2> stroke_boxes() const;

    double area_mm2() const;
    double perimeter_mm() const;
    Box2 box() const;
    /// Inside, edge excluded.
    bool contains(Point point) const;
    /// Distance of a point to the curve itself, whichever side it is on.
    double distance_to_mm(Point point) const;

  private:
    struct Path;
    const Path& path() const { return **std::get_if<std::shared_ptr<const Path>>(&shape_); }
    std::variant<Circle, std::shared_ptr<const Path>> shape_;
};

/// Two points nearer than this are one point; two curves nearer than this touch. 1e-7 mm is the kernel's own
/// confusion distance, ten times finer than the 1e-6 mm that positions are held to.
inline constexpr double same_point_mm = 1e-7;

/// @param corner_radius_mm  0: sharp; at most half the shorter side (more counts as that).
/// @param turn              about `centre`, anticlockwise.
Contour rectangle(Point centre, double width_mm, double height_mm, double corner_radius_mm, Angle turn);
/// A slot whose end arcs are centred on `from` and `to`; a circle where these are one point.
Contour slot(Point from, Point to, double width_mm);
/// Corners rounded by `corner_radius_mm` (0: sharp). Points in either sense.
/// @returns nothing where the polygon crosses or touches itself, has no area, an edge is too short for its
/// two roundings, or
///          a number is no length.
std::optional<Contour> polygon(std::span<const Point> points, double corner_radius_mm);
/// Whether two edges that are not neighbours come nearer than `same_point_mm`.
bool touches_itself(const Contour& contour);
/// The convex outline around all circles: arcs and their common tangents (one circle that holds all: that
/// circle).
/// @param circles  at least one; a radius of 0 is a sharp corner, but not all may be so on one line.
/// Accuracy: 1e-9 mm. Cost: circles times arcs of the hull.
Contour hull(std::span<const Circle> circles);

/// The outline of a crank: of each arm the belt round hub and eye, all joined; where two arms meet the corner
/// is rounded by `inner_radius_mm` (0: sharp), as a cutter of that radius leaves it.
/// @returns nothing where an eye lies within the hub or holds it, or two arms are one.
std::optional<Contour> crank_outline(const Circle& hub, std::span<const Circle> eyes, double inner_radius_mm);

/// Whether `inner` lies in `outer`; its edge may touch from the inside (a hub's circle in the outline round
/// it).
bool lies_within(const Contour& inner, const Contour& outer);

/// Second moment of the area inside about the point, in mm4.
double polar_moment_mm4(const Contour& contour, Point about);

/// Turned about the origin, then shifted.
Contour moved(const Contour& contour, Angle turn, Point shift);
/// With X changed in sign, anticlockwise again.
Contour mirrored_x(const Contour& contour);

/// Least radius of the corners that a cutter inside the contour runs into; 0: a sharp one; nothing for a
/// circle, nor where no corner or arc bends that way.
std::optional<double> least_inside_radius_mm(const Contour& contour);

/// How two contours lie to each other in the plane. Nearer than `same_point_mm` counts as `crossing`, except
/// that two equal contours are `same`.
enum class Relation { apart, first_inside_second, second_inside_first, crossing, same };
Relation relation(const Contour& first, const Contour& second);

/// Least distance between two curves (0 where they cross), and where.
struct Gap {
    double distance_mm = 0.0;
    Point on_first;
    Point on_second;
};
Gap gap(const Contour& first, const Contour& second);

/// The region at least `by_mm` inside the contour, as its boundary loops (several where it falls apart, none
/// where nothing is left). Exact: lines and arcs.
std::vector<Contour> inset(const Contour& contour, double by_mm);

/// A flat region: inside `outer`, outside every island.
struct Area {
    Contour outer;
    std::vector<Contour> islands;
};
double area_mm2(const Area& area);
/// Of the outer contour, and of the corners between what its islands are joined of.
std::optional<double> least_inside_radius_mm(const Area& area);

/// Every point that a disc of radius `cutter_radius_mm` can cover while it stays inside `inside` and off
/// every circle of `keep_out`: what a cutter of that radius can mill. Parts that the cutter can't reach are
/// left out.
std::vector<Area> reachable(const Contour& inside, std::span<const Circle> keep_out, double cutter_radius_mm);

}  // namespace fitup::plan
