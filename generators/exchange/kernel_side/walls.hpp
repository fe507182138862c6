#pragma once

#include <string>
#include <vector>

#include "exchange/measurement.hpp"

namespace fitup::exchange {

/// Part of a turn about an axis, anticlockwise.
struct Turn {
    double from_rad = 0.0;
    double sweep_rad = 0.0;
};

/// One cylindrical face of a file.
struct WallPiece {
    plan::Point3 axis{0, 0, 1};  ///< unit, its largest component positive
    plan::Point3 foot{};         ///< the axis's point nearest the origin
    double radius_mm = 0.0;
    double low_mm = 0.0;  ///< range along the axis
    double high_mm = 0.0;
    std::vector<Turn> turns;  ///< where round the axis it is; they may overlap
    bool is_hole = true;
    std::string name;
};

/// Pieces with the same axis, radius and sense whose ranges touch become one wall, in order of their first
/// piece.
std::vector<Cylinder> joined_walls(std::vector<WallPiece> pieces);

}  // namespace fitup::exchange
