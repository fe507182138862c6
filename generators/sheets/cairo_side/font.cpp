#include "sheets/cairo_side/font.hpp"

#include <cairo-ft.h>
#include FT_FREETYPE_H

#include <array>

namespace fitup::sheets {

namespace {

struct Font {
    cairo_font_face_t* face = nullptr;
    double size = 1.0;
};

/// Height of the capital H over the em; 0.7 where the font has none.
double share_of_capitals(FT_Face face) {
    if (FT_Load_Char(face, 'H', FT_LOAD_NO_SCALE) != 0 || face->units_per_EM == 0) return 0.7;
    return double(face->glyph->metrics.horiBearingY) / face->units_per_EM;
}

Font load() {
    static FT_Library library = nullptr;
    if (FT_Init_FreeType(&library) != 0) return {};
    constexpr std::array files{"/usr/share/fonts/truetype/osifont/osifont.ttf",
                               "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf",
                               "/usr/local/share/fonts/osifont.ttf"};
    for (const char* file : files) {
        FT_Face face = nullptr;
        if (FT_New_Face(library, file, 0, &face) != 0) continue;
        return {cairo_ft_font_face_create_for_ft_face(face, FT_LOAD_NO_HINTING),
                1.0 / share_of_capitals(face)};
    }
    return {};
}

const Font& font() {
    static const Font loaded = load();
    return loaded;
}

}  // namespace

cairo_font_face_t* lettering_font() { return font().face; }

double size_of_capitals() { return font().size; }

}  // namespace fitup::sheets
