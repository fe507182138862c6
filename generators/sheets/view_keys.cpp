#include "sheets/view_keys.hpp"

#include <cmath>
#include <utility>

#include "plan/vector.hpp"

namespace fitup::sheets {

using plan::Point;

void add_length(ViewKeys& keys, std::string name, Point from, Point to, Point along) {
    keys.lengths.push_back({std::move(name), from, to, along, std::abs(plan::dot(to - from, along))});
}

void add_diameter(ViewKeys& keys, std::string name, Point centre, Point across, double diameter_mm) {
    const Point half = across * (diameter_mm / 2.0);
    keys.lengths.push_back({std::move(name), centre - half, centre + half, across, diameter_mm, true});
}

}  // namespace fitup::sheets
