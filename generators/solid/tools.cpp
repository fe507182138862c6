#include "solid/tools.hpp"

namespace fitup::solid {
namespace {

void add_wall(plan::Skin& skin, std::size_t contour, double low_mm, double high_mm, const std::string& name) {
    skin.walls.push_back({contour, low_mm, high_mm, contour == 0, name});
}

plan::Skin prism(const plan::Area& area, double low_mm, double high_mm, const std::string& name) {
    plan::Skin skin;
    skin.contours.push_back(area.outer);
    skin.contours.insert(skin.contours.end(), area.islands.begin(), area.islands.end());
    std::vector<std::size_t> inner;
    for (std::size_t i = 0; i < skin.contours.size(); ++i) {
        if (i > 0) inner.push_back(i);
        add_wall(skin, i, low_mm, high_mm, name);
    }
    skin.floors = {{low_mm, false, 0, inner, name}, {high_mm, true, 0, inner, name}};
    return skin;
}

/// The wide end is contour 0 and may go on as a cylinder; the narrow end is contour 1 or a tip.
plan::Skin cone(const plan::Cut& cut, double low_mm, double high_mm) {
    const auto& ends = *cut.cone;
    const bool widens = ends.radius_high_mm > ends.radius_low_mm;
    const double wide_mm = widens ? ends.radius_high_mm : ends.radius_low_mm;
    const double narrow_mm = widens ? ends.radius_low_mm : ends.radius_high_mm;
    const double z_wide_mm = widens ? cut.z_high_mm : cut.z_low_mm;
    const double z_narrow_mm = widens ? cut.z_low_mm : cut.z_high_mm;
    const double z_end_mm = widens ? high_mm : low_mm;
    const plan::Point centre = cut.area.outer.circle()->centre;

    plan::Skin skin;
    skin.contours.emplace_back(plan::Circle{centre, wide_mm});
    skin.slopes.push_back({0, std::nullopt, z_wide_mm, z_narrow_mm, !widens, cut.id});
    if (narrow_mm > 0.0) {
        skin.contours.emplace_back(plan::Circle{centre, narrow_mm});
        skin.slopes.front().inner = 1;
        skin.floors.push_back({z_narrow_mm, !widens, 1, {}, cut.id});
    }
    if (z_end_mm > z_wide_mm) add_wall(skin, 0, z_wide_mm, z_end_mm, cut.id);
    if (z_end_mm < z_wide_mm) add_wall(skin, 0, z_end_mm, z_wide_mm, cut.id);
    skin.floors.push_back({z_end_mm, widens, 0, {}, cut.id});
    return skin;
}

}  // namespace

plan::Skin tool_skin(const plan::Cut& cut, const plan::Box& metal) {
    const double low_mm = cut.opens_a ? metal.least[2] - beyond_mm : cut.z_low_mm;
    const double high_mm = cut.opens_b ? metal.most[2] + beyond_mm : cut.z_high_mm;
    return cut.cone ? cone(cut, low_mm, high_mm) : prism(cut.area, low_mm, high_mm, cut.id);
}

plan::Skin ring_skin(const plan::Raised& ring, double thickness_mm) {
    const bool on_a = ring.side == plan::Side::A;
    const double low_mm = on_a ? -ring.height_mm : thickness_mm;
    return prism({ring.outer, ring.inner}, low_mm, low_mm + ring.height_mm, ring.id);
}

}  // namespace fitup::solid
