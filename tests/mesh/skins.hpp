#pragma once

#include <cmath>
#include <numbers>
#include <vector>

#include "mesh/mesh.hpp"

/// Skins made by hand, and closed forms with polygons in place of circles.
namespace fitup::mesh::testing {

/// A round plate with round through holes.
inline plan::Skin plate(double radius_mm, double thickness_mm, const std::vector<plan::Circle>& holes) {
    plan::Skin skin;
    skin.contours.emplace_back(plan::Circle{{0.0, 0.0}, radius_mm});
    skin.walls.push_back({0, 0.0, thickness_mm, true, "outline"});
    std::vector<std::size_t> inner;
    for (const plan::Circle& hole : holes) {
        inner.push_back(skin.contours.size());
        skin.walls.push_back({skin.contours.size(), 0.0, thickness_mm, false, "hole"});
        skin.contours.emplace_back(hole);
    }
    skin.floors.push_back({0.0, false, 0, inner, "face A"});
    skin.floors.push_back({thickness_mm, true, 0, inner, "face B"});
    return skin;
}

/// 24 a ring, rings 12 mm apart: holes of 6 mm.
inline plan::Skin plate_with_many_holes(int rings) {
    std::vector<plan::Circle> holes;
    for (int ring = 0; ring < rings; ++ring) {
        for (int i = 0; i < 24; ++i) {
            const Angle angle = Angle::from_degrees(15.0 * i + 3.0 * ring);
            const double r = 40.0 + 12.0 * ring;
            holes.push_back({{r * angle.cos(), r * angle.sin()}, 3.0});
        }
    }
    return plate(40.0 + 12.0 * rings, 20.0, holes);
}

/// Regular polygon inscribed in a circle: n/2 r^2 sin(2 pi / n). Closed form.
inline double polygon_area_mm2(double radius_mm, const Fineness& fineness) {
    const double n = sides_of_circle(radius_mm, fineness);
    return n / 2.0 * radius_mm * radius_mm * std::sin(2.0 * std::numbers::pi / n);
}

/// Area of a contour's polygon by the shoelace formula; a second computation, from points alone.
inline double shoelace_mm2(const std::vector<plan::Point>& points) {
    long double sum = 0.0L;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const plan::Point a = points[i];
        const plan::Point b = points[(i + 1) % points.size()];
        sum += static_cast<long double>(a.x_mm) * b.y_mm - static_cast<long double>(b.x_mm) * a.y_mm;
    }
    return static_cast<double>(sum / 2.0L);
}

}  // namespace fitup::mesh::testing
