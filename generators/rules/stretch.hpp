#pragma once

#include "rules/subject.hpp"

/// How much metal stands where a hole goes: once, for threads, drills and floors.
namespace fitup::rules {

/// From one face to the far one, in mm, a spigot that stands there included.
/// @param contour  what is cut from face `from`
double metal_behind_mm(const plan::Plan& plan, plan::Side from, const plan::Contour& contour);

/// Of a blind hole's drill point, beyond its full diameter; 0 where it is flat.
double point_height_mm(const plan::Hole& hole);

/// A stretch of a hole's axis in mm from the plane of the face that the hole is made from, positive into the
/// metal; it starts below 0 where a spigot stands there.
struct Stretch {
    double from_mm = 0.0;
    double to_mm = 0.0;
};

/// Whether a pocket that takes away a part of the hole's round only takes that stretch away.
enum class PartlyCut { is_gone, is_metal };

/// Where metal stands along the hole's axis, as if the hole were not yet made: recess and pockets on both
/// sides, which end it, and spigots are counted; a countersink is not.
Stretch metal_along(const Subject& subject, std::size_t hole, PartlyCut partly_cut);

}  // namespace fitup::rules
