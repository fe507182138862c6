#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "plan/contour.hpp"

namespace fitup::plan {

/// A line or an arc with both its ends: what the geometry of contours is worked out on. A whole circle is an
/// arc of a full turn.
struct Stroke {
    Point from;
    Point to;
    Point centre;            ///< of an arc
    double radius_mm = 0.0;  ///< of an arc
    double sweep_rad = 0.0;  ///< of an arc, anticlockwise positive; 0: a line
    bool is_line() const { return sweep_rad == 0.0; }
};

/// The edges of a contour, anticlockwise; one whole turn for a circle.
std::vector<Stroke> strokes_of(const Contour& contour);

Stroke line_stroke(Point from, Point to);
/// @param from  and `to`: on the circle about `centre`, and not the same point.
Stroke arc_stroke(Point from, Point to, Point centre, Turn turn);
/// Starts and ends at +X from the centre.
Stroke circle_stroke(const Circle& circle, Turn turn = Turn::anticlockwise);

/// Equal parts of an arc whose chords stay this near to it; at least one.
int chords_within(double radius_mm, double sweep_rad, double within_mm);

Stroke reversed(const Stroke& stroke);
double length_mm(const Stroke& stroke);
/// Twice the area swept by the ray from `about` to the stroke's points, anticlockwise positive.
double twice_swept_area_mm2(const Stroke& stroke, Point about);
Box2 box(const Stroke& stroke);
/// @param share  0 at the start, 1 at the end; both come out exactly.
Point point_at(const Stroke& stroke, double share);
/// Unit vector of travel.
Point direction_at(const Stroke& stroke, double share);
/// Where on the stroke a point of it lies, 0 to 1.
double share_of(const Stroke& stroke, Point point);
/// The part from one share to a later one.
Stroke part_of(const Stroke& stroke, double from_share, double to_share);
Point nearest_point(const Stroke& stroke, Point point);
/// Whether the ray from an arc's centre in a direction meets the arc.
bool spans(const Stroke& arc, Point direction);

/// Points that two strokes have in common; a shared stretch (parallel or concentric) gives none.
struct Crossings {
    std::size_t count = 0;
    std::array<Point, 2> at;
    const Point* begin() const { return at.data(); }
    const Point* end() const { return at.data() + count; }
};
Crossings crossings(const Stroke& first, const Stroke& second);
Gap gap(const Stroke& first, const Stroke& second);

/// Box of a contour's parts, and how far apart boxes are (0 where they overlap).
Box2 joined(const Box2& a, const Box2& b);
double distance_mm(const Box2& a, const Box2& b);
double distance_mm(const Box2& box, Point point);

}  // namespace fitup::plan
