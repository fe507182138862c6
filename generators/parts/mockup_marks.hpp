#pragma once

#include <string>
#include <vector>

#include "parts/mockup_room.hpp"

/// What stands on a mock-up's faces or is sunk into them.
namespace fitup::parts {

/// Sunk this deep, with strokes this wide (printed lettering: 0.4 deep, strokes of 0.6 to 0.8, about 6 high;
/// a trade guide).
inline constexpr double sunk_mm = 0.4, stroke_mm = 0.6;

/// Part of a ring, or all of it from -pi to pi where the sweep is a whole turn: a disc's edge then.
struct Sector {
    plan::Point centre;
    double inside_mm = 0.0;   ///< radius
    double outside_mm = 0.0;  ///< radius
    double from_rad = 0.0;
    double to_rad = 0.0;
};
plan::Contour outline_of(const Sector& sector);

/// Ledges of every ring, where there is room for them.
void add_ledges(const Flat& flat, Room& room, plan::Plan& plan);
/// Outlines of recesses and the like as dashes, where there is room for them.
void add_dashes(const Flat& flat, Room& room, plan::Plan& plan);

/// Words about a point, upright as one looks at the face.
struct Label {
    plan::Side side = plan::Side::B;
    std::string text;
    double height_mm = 6.0;
    plan::Point middle;
};
/// What it takes on the face, strokes included.
plan::Contour box_of(const Label& label);
/// A rectangle about a point.
plan::Box2 box_about(plan::Point middle, double width_mm, double height_mm);
double width_mm(const Label& label);
/// Sinks it, and takes its room.
void add_label(const Label& label, Room& room, plan::Plan& plan);
/// Sinks any areas. REQUIRES: their room is taken.
void sink(plan::Side side, std::vector<plan::Area> areas, plan::Plan& plan);

}  // namespace fitup::parts
