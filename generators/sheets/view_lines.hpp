#pragma once

#include "plan/stroke.hpp"
#include "sheets/view.hpp"

/// Lines and arcs put into a view.
namespace fitup::sheets {

void add_line(View& view, LineKind kind, plan::Point from, plan::Point to);
void add_polyline(View& view, LineKind kind, std::vector<plan::Point> points, bool closed = false);
void add_circle(View& view, LineKind kind, plan::Point centre, double radius_mm);
/// A line, an arc or, where it is a whole turn, a circle.
void add_stroke(View& view, LineKind kind, const plan::Stroke& stroke);
void add_contour(View& view, LineKind kind, const plan::Contour& contour);
/// Two centre lines that cross at a place, each reaching so far to both sides of it.
/// @param along  the way that the first one runs; unit
void add_cross(View& view, plan::Point at, plan::Point along, double first_reach_mm, double second_reach_mm);

/// With X changed in sign: as looked at from the other side.
View mirrored_x(const View& view);
/// Shifted.
View moved(const View& view, plan::Point by);
/// All that is drawn; a view without anything has a box without extent at the origin.
plan::Box2 box(const View& view);

}  // namespace fitup::sheets
