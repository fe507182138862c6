#pragma once

#include <string>
#include <vector>

#include "base/angle.hpp"
#include "sheets/view.hpp"

/// What of a view is worth a dimension: its places in the view's own millimetres, and its true size, which a
/// view that is broken or turned does not show.
namespace fitup::sheets {

struct KeyLength {
    std::string name;  ///< "pivot to eye", "run"
    plan::Point from, to;
    plan::Point along;  ///< unit: the way it is measured
    double size_mm = 0.0;
    bool is_diameter = false;
};

struct KeyRadius {
    std::string name;  ///< "inside radius"
    plan::Point centre;
    plan::Point at;  ///< on the arc, where a leader points
    double size_mm = 0.0;
};

struct KeyAngle {
    std::string name;  ///< "bend"
    plan::Point corner;
    double from_rad = 0.0;  ///< anticlockwise from +X
    double sweep_rad = 0.0;
    Angle size;
};

struct ViewKeys {
    std::vector<KeyLength> lengths;
    std::vector<KeyRadius> radii;
    std::vector<KeyAngle> angles;
};

struct KeyedView {
    View view;
    ViewKeys keys;
};

/// The distance of two places as it is measured `along` (unit).
void add_length(ViewKeys& keys, std::string name, plan::Point from, plan::Point to, plan::Point along);
void add_diameter(ViewKeys& keys, std::string name, plan::Point centre, plan::Point across,
                  double diameter_mm);

}  // namespace fitup::sheets
