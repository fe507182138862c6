#pragma once

#include <optional>

#include "plan/contour.hpp"
#include "sheets/sheet_sizes.hpp"

namespace fitup::sheets {

/// A contour known as one of the shapes that a size or two says all of.
struct KnownShape {
    enum class Kind { circle, slot, rectangle };
    Kind kind = Kind::circle;
    plan::Point centre;
    double length_mm = 0.0;  ///< over all, the larger; of a circle its diameter
    double width_mm = 0.0;
    double corner_mm = 0.0;  ///< of a rectangle
    double turn_deg = 0.0;   ///< of its length from +X, from -90 to 90
};
std::optional<KnownShape> known_shape(const plan::Contour& contour);

/// "51.73 x 22 slot at -47.7 deg"; of any other contour its size over all and that it is free.
std::string shape_words(const plan::Contour& contour, const SheetSizes& sizes);

/// The known shape's centre; of any other contour its box's.
plan::Point shape_centre(const plan::Contour& contour);

}  // namespace fitup::sheets
