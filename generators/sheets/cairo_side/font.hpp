#pragma once

#include <cairo.h>

namespace fitup::sheets {

/// The lettering font (ISO 3098) by its file, else a common one; null where the machine has neither. Loaded
/// once, by file and not by name, so that every machine that has it draws the same.
cairo_font_face_t* lettering_font();

/// Size of that font at which its capital letters are one unit high.
double size_of_capitals();

}  // namespace fitup::sheets
