#include "sheets/contour_lines.hpp"

#include <algorithm>
#include <cmath>

#include "plan/stroke.hpp"

namespace fitup::sheets {

namespace {

/// Chords that keep this near to an arc.
int chords_of(const plan::Stroke& stroke, double chord_mm) {
    if (stroke.is_line()) return 1;
    const double most_rad = 2.0 * std::acos(1.0 - std::min(1.0, chord_mm / stroke.radius_mm));
    return std::max(1, int(std::ceil(std::abs(stroke.sweep_rad) / most_rad)));
}

}  // namespace

Line contour_line(const plan::Contour& contour, const ToPage& to_page, const Pen& pen, double chord_mm) {
    Line line;
    line.closed = true;
    line.pen = pen;
    for (const plan::Stroke& stroke : plan::strokes_of(contour)) {
        const int chords = chords_of(stroke, chord_mm);
        for (int i = 0; i < chords; ++i)
            line.points.push_back(to_page(plan::point_at(stroke, double(i) / chords)));
    }
    return line;
}

}  // namespace fitup::sheets
