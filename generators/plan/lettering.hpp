#pragma once

#include <string_view>
#include <vector>

#include "plan/contour.hpp"

/// Lettering of our own, as a round cutter draws it: capital letters, digits, - . / + and blanks.
namespace fitup::plan {

/// Width of the stroke as a share of the letters' height: the tenth that ISO 3098 gives type B lettering
/// (from memory, unverified).
inline constexpr double stroke_share = 0.1;

/// The letters' centrelines for a line of text whose middle is the origin, reading along +X.
/// @param height_mm  over all, the stroke's width included
/// @param text       letters as above; others are left blank
std::vector<std::vector<Point>> lettering_lines(std::string_view text, double height_mm);

/// What the cutter leaves, in mm: an area for each piece of a letter.
std::vector<Area> lettering(std::string_view text, double height_mm);

}  // namespace fitup::plan
