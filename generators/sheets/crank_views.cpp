#include "sheets/crank_views.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "plan/vector.hpp"
#include "sheets/metal_map.hpp"
#include "sheets/plan_view.hpp"
#include "sheets/section_view.hpp"
#include "sheets/view_lines.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;

constexpr Point along_y{0.0, 1.0};

Point direction_of(Angle angle) { return {angle.cos(), angle.sin()}; }

class TopView {
  public:
    TopView(const plan::Plan& plan, double overshoot_mm) : plan_(plan), overshoot_mm_(overshoot_mm) {}

    KeyedView draw() {
        keyed_.view = plan_view(plan_, plan::Side::B, {.overshoot_mm = overshoot_mm_});
        keyed_.view.name = "from above";
        for (const plan::CrankArm& arm : plan_.crank->arms) add_arm(arm);
        add_angles();
        add_diameter(keyed_.keys, "hub", {}, along_y, plan_.crank->hub_diameter_mm);
        add_diameter(keyed_.keys, "pivot bore", {}, along_y, plan_.holes.front().diameter_mm);
        return std::move(keyed_);
    }

  private:
    void add_arm(const plan::CrankArm& arm) {
        const Point way = direction_of(arm.angle), eye = way * arm.length_mm;
        const Point end = way * (arm.length_mm + arm.eye_diameter_mm / 2.0 + overshoot_mm_);
        add_line(keyed_.view, LineKind::centre, {}, end);
        add_length(keyed_.keys, "arm " + arm.name, {}, eye, way);
        add_diameter(keyed_.keys, "eye " + arm.name, eye, plan::left_of(way), arm.eye_diameter_mm);
    }

    /// From one arm to the next, anticlockwise; of two only the smaller one of both.
    void add_angles() {
        std::vector<plan::CrankArm> arms = plan_.crank->arms;
        std::sort(arms.begin(), arms.end(),
                  [](const auto& a, const auto& b) { return turn_rad(a.angle) < turn_rad(b.angle); });
        for (std::size_t k = 0; arms.size() > 1 && k < arms.size(); ++k) {
            const plan::CrankArm &arm = arms[k], &next = arms[(k + 1) % arms.size()];
            const double from_rad = turn_rad(arm.angle);
            const double sweep_rad = turn_rad(next.angle - arm.angle);
            const bool is_other = arms.size() == 2 && (sweep_rad > std::numbers::pi + 1e-9 ||
                                                       (k == 1 && sweep_rad > std::numbers::pi - 1e-9));
            if (!is_other)
                keyed_.keys.angles.push_back(
                    {arm.name + " to " + next.name, {}, from_rad, sweep_rad, Angle::from_radians(sweep_rad)});
        }
    }

    /// In [0, 2 pi).
    static double turn_rad(Angle angle) {
        const double degrees = angle.degrees() - 360.0 * std::floor(angle.degrees() / 360.0);
        return Angle::from_degrees(degrees).radians();
    }

    const plan::Plan& plan_;
    double overshoot_mm_;
    KeyedView keyed_;
};

/// Least and greatest height of the metal over an axis' own ring: taken just outside its hole.
MetalEnd reach_at(const MetalMap& metal, Point centre, Point way, double radius_mm) {
    const auto stretches = metal.at(centre + way * radius_mm);
    if (stretches.empty()) return {};
    return {stretches.front().low.from_mm, stretches.back().high.from_mm, false};
}

KeyedView section_of(const plan::Plan& plan, const CuttingLine& cut, double overshoot_mm) {
    KeyedView keyed;
    keyed.view = section_view(plan, cut, {.overshoot_mm = overshoot_mm});
    const MetalMap metal(plan);
    const auto add_height = [&](std::string name, double x_mm, double low_mm, double high_mm) {
        if (high_mm - low_mm > plan::same_point_mm)
            add_length(keyed.keys, std::move(name), {x_mm, low_mm}, {x_mm, high_mm}, along_y);
    };
    const double hub_mm = plan.crank->hub_diameter_mm / 2.0;
    const Point first_way =
        plan.crank->arms.empty() ? Point{1.0, 0.0} : direction_of(plan.crank->arms[0].angle);
    const MetalEnd hub =
        reach_at(metal, {}, first_way * -1.0, (plan.holes.front().diameter_mm / 2.0 + hub_mm) / 2.0);
    add_height("thickness", hub_mm, 0.0, plan.body.thickness_mm);
    add_height("hub height", -hub_mm, hub.from_mm, hub.to_mm);
    add_height("hub below", -hub_mm, hub.from_mm, 0.0);
    for (const plan::CrankArm& arm : plan.crank->arms) {
        const Point way = direction_of(arm.angle), at = way * arm.length_mm;
        const auto place = place_on(cut, at);
        if (!place) continue;
        const double hole_mm = plan.holes[arm.eye_hole].diameter_mm / 2.0, eye_mm = arm.eye_diameter_mm / 2.0;
        const MetalEnd eye = reach_at(metal, at, plan::left_of(way), (hole_mm + eye_mm) / 2.0);
        add_height("eye height " + arm.name, *place + (*place < 0.0 ? -eye_mm : eye_mm), eye.from_mm,
                   eye.to_mm);
    }
    return keyed;
}

}  // namespace

CrankViews crank_views(const plan::Plan& plan, double overshoot_mm) {
    CrankViews views;
    views.top = TopView(plan, overshoot_mm).draw();
    views.cut = chosen_cut(plan);
    views.section = section_of(plan, views.cut, overshoot_mm);
    return views;
}

}  // namespace fitup::sheets
