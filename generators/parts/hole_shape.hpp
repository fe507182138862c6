#pragma once

#include "parts/adapter_plate.hpp"
#include "plan/drill_point.hpp"

namespace fitup::parts {

/// Least floor that a default drill depth leaves below the drill's point: where rule hole-floor starts to
/// warn. Source: machining suppliers' design guides, walls of 0.8 mm.
inline constexpr double least_floor_mm = 0.8;

using plan::point_height_mm;

/// Depth of the tap drill where the file states none: 5 pitches below the thread (a plug tap's chamfer and
/// one more), at most what leaves `least_floor_mm` under the point in the plate, and never less than the
/// thread.
double usual_drill_depth_mm(double thread_depth_mm, double pitch_mm, double point_mm, double thickness_mm);

/// A pattern's hole in a plate of that thickness, still without id, place and direction. Shapes that do not
/// exist (deeper than the plate, a recess no wider than its hole) become faults.
plan::Hole shaped_hole(Reader& reader, const HoleParameters& parameters, double thickness_mm);

}  // namespace fitup::parts
