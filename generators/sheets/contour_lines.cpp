#include "sheets/contour_lines.hpp"

#include "plan/stroke.hpp"

namespace fitup::sheets {

Line contour_line(const plan::Contour& contour, const ToPage& to_page, const Pen& pen, double chord_mm) {
    Line line;
    line.closed = true;
    line.pen = pen;
    for (const plan::Stroke& stroke : plan::strokes_of(contour)) {
        const int chords =
            stroke.is_line() ? 1 : plan::chords_within(stroke.radius_mm, stroke.sweep_rad, chord_mm);
        for (int i = 0; i < chords; ++i)
            line.points.push_back(to_page(plan::point_at(stroke, double(i) / chords)));
    }
    return line;
}

}  // namespace fitup::sheets
