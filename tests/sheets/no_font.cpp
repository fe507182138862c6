// In place of the machine's font: a machine that has none.
#include "sheets/cairo_side/font.hpp"

namespace fitup::sheets {

cairo_font_face_t* lettering_font() { return nullptr; }

double size_of_capitals() { return 1.0; }

}  // namespace fitup::sheets
