#include "solid/plates.hpp"

#include <cmath>

namespace fitup::plates {

plan::Plan round_plate() {
    plan::Plan plan;
    plan.part = "adapter_plate";
    plan.name = "winch-adapter";
    plan.material = {.name = "aluminium 6061-T6",
                     .density_kg_m3 = 2700.0,
                     .youngs_modulus_gpa = 68.9,
                     .yield_mpa = {},
                     .expansion_per_k = {},
                     .family = "aluminium",
                     .source = "handbook"};
    plan.body.outline = plan::Contour(plan::Circle{{0, 0}, 100});
    plan.body.thickness_mm = 20;
    plan.holes.push_back(hole("bore", {0, 0}, 60));
    plan.holes.front().kind = plan::HoleKind::bore;
    return plan;
}

plan::Plan rectangle_plate() {
    plan::Plan plan = round_plate();
    plan.holes.clear();
    plan.body.outline = plan::rectangle({0, 0}, 160, 120, 12, Angle());
    plan.body.thickness_mm = 16;
    return plan;
}

plan::Plan many_holes(int count) {
    const double pitch_mm = 20.0;
    const int across = static_cast<int>(std::ceil(std::sqrt(count)));
    plan::Plan plan = rectangle_plate();
    plan.body.outline = plan::rectangle({0, 0}, pitch_mm * (across + 1), pitch_mm * (across + 1), 8, Angle());
    plan.body.thickness_mm = 24;
    for (int i = 0; i < count; ++i) {
        const plan::Point at{pitch_mm * (i % across - 0.5 * (across - 1)),
                             pitch_mm * (i / across - 0.5 * (across - 1))};
        const std::string id = "grid-" + std::to_string(i + 1);
        plan.holes.push_back(i % 3 == 2 ? blind_hole(id, at, 8.5, 15) : hole(id, at, 9));
        if (i % 3 == 1) plan.holes.back().recess = plan::Recess{plan::Side::B, 15, 6, {}};
    }
    return plan;
}

plan::Hole hole(const std::string& id, plan::Point at, double diameter_mm) {
    plan::Hole made;
    made.id = id;
    made.at_mm = at;
    made.diameter_mm = diameter_mm;
    return made;
}

plan::Hole blind_hole(const std::string& id, plan::Point at, double diameter_mm, double depth_mm,
                      plan::Side from) {
    plan::Hole made = hole(id, at, diameter_mm);
    made.from = from;
    made.through = false;
    made.depth_mm = depth_mm;
    made.point_angle = Angle::from_degrees(118);
    return made;
}

plan::Pocket relief(const std::string& id, const plan::Contour& contour, plan::Side side, double depth_mm) {
    plan::Pocket made;
    made.id = id;
    made.side = side;
    made.areas = {{contour, {}}};
    made.depth_mm = depth_mm;
    return made;
}

}  // namespace fitup::plates
