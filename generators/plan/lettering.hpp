#pragma once

#include <string_view>
#include <vector>

#include "plan/contour.hpp"

/// Lettering of our own, as a round cutter draws it: Latin letters, digits, marks and the signs of drawings
/// (diameter, depth, counterbore, countersink, plus-minus, degree, times), in UTF-8. Small letters may reach
/// under the base line.
namespace fitup::plan {

/// Width of the stroke as a share of the letters' height: the tenth that ISO 3098 gives type B lettering
/// (from memory, unverified).
inline constexpr double stroke_share = 0.1;

/// The letters' centrelines for a line of text whose middle is the origin, reading along +X.
/// @param height_mm  over all, the stroke's width included
/// @param text       letters as above; a box stands for any other
/// @param stroke     its width as a share of the height
std::vector<std::vector<Point>> lettering_lines(std::string_view text, double height_mm,
                                                double stroke = stroke_share);

/// The letters of a text, each with all its bytes (UTF-8).
std::vector<std::string_view> split_into_letters(std::string_view text);

/// Whether there is a letter or a blank for it.
/// @param name  one letter
bool has_letter(std::string_view name);

/// Width over all of a line of text, in mm.
/// @param stroke  width of the stroke as a share of the height
double lettering_width_mm(std::string_view text, double height_mm, double stroke = stroke_share);

/// What the cutter leaves, in mm: an area for each piece of a letter.
/// @param stroke  as above, up to 0.15: bolder letters of the same height run into each other
std::vector<Area> lettering(std::string_view text, double height_mm, double stroke = stroke_share);

}  // namespace fitup::plan
