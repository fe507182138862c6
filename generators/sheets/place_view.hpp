#pragma once

#include "sheets/drawing.hpp"
#include "sheets/view.hpp"

namespace fitup::sheets {

/// Where a view lies on the page: its zero, and page over part.
struct Placing {
    Place zero{};
    double scale = 1.0;
    Place operator()(plan::Point at) const { return {zero[0] + scale * at.x_mm, zero[1] - scale * at.y_mm}; }
};

/// The pen that a kind of line is drawn with: wide for what is seen, narrow for the rest (ISO 128-2).
Pen pen_of(LineKind kind);

/// Turned a quarter anticlockwise: what lay to the right lies above.
View quarter_turned(const View& view);
plan::Point quarter_turned(plan::Point at);

/// All of a view's lines; cut metal is hatched at 45 degrees.
void add_view(Drawing& drawing, const View& view, const Placing& placing);

}  // namespace fitup::sheets
