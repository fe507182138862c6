#pragma once

#include <string_view>
#include <vector>

#include "plan/contour.hpp"

/// Lettering of our own, as a round cutter draws it: capital letters, digits, - . / + : = % _ and blanks.
namespace fitup::plan {

/// Width of the stroke as a share of the letters' height: the tenth that ISO 3098 gives type B lettering
/// (from memory, unverified).
inline constexpr double stroke_share = 0.1;

/// The letters' centrelines for a line of text whose middle is the origin, reading along +X.
/// @param height_mm  over all, the stroke's width included
/// @param text       letters as above; others are left blank
/// @param stroke     its width as a share of the height
std::vector<std::vector<Point>> lettering_lines(std::string_view text, double height_mm,
                                                double stroke = stroke_share);

/// Whether there is a letter or a blank for it.
bool has_letter(char name);

/// Width over all of a line of text, in mm.
/// @param stroke  width of the stroke as a share of the height
double lettering_width_mm(std::string_view text, double height_mm, double stroke = stroke_share);

/// What the cutter leaves, in mm: an area for each piece of a letter.
/// @param stroke  as above, up to 0.15: bolder letters of the same height run into each other
std::vector<Area> lettering(std::string_view text, double height_mm, double stroke = stroke_share);

}  // namespace fitup::plan
