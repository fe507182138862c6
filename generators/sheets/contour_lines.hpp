#pragma once

#include <functional>

#include "plan/contour.hpp"
#include "sheets/drawing.hpp"

namespace fitup::sheets {

/// From a part's place in mm (X right, Y up) to the page.
using ToPage = std::function<Place(plan::Point)>;

/// A contour as lines on the page: a polygon whose arcs are chords within `chord_mm`. Scales may differ along
/// X and Y, so that a circle may come out an ellipse.
Line contour_line(const plan::Contour& contour, const ToPage& to_page, const Pen& pen,
                  double chord_mm = 0.005);

}  // namespace fitup::sheets
