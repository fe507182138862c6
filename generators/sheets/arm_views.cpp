#include "sheets/arm_views.hpp"

#include <algorithm>
#include <cmath>

#include "plan/joggle.hpp"
#include "plan/stroke.hpp"
#include "plan/vector.hpp"
#include "sheets/arm_side.hpp"
#include "sheets/plan_view.hpp"
#include "sheets/view_lines.hpp"

namespace fitup::sheets {

namespace {

using plan::Point;

constexpr Point along_x{1.0, 0.0}, along_y{0.0, 1.0};

/// From end to end of the strip, through both axes.
void add_long_centre(View& view, const plan::Contour& outline, double overshoot_mm) {
    const plan::Box2 box = outline.box();
    add_line(view, LineKind::centre, {box.least.x_mm - overshoot_mm, 0.0},
             {box.most.x_mm + overshoot_mm, 0.0});
}

void add_bend_lines(View& view, const plan::Plan& plan, const std::vector<std::array<double, 2>>& bends_mm) {
    const double half_mm = plan.arm->strip_width_mm / 2.0;
    for (const auto& bend : bends_mm) {
        for (const double x_mm : bend) add_line(view, LineKind::bend, {x_mm, -half_mm}, {x_mm, half_mm});
    }
}

/// In X, where each bend starts and ends on the upper face when it is bent.
std::vector<std::array<double, 2>> bends_from_above(const plan::Plan& plan) {
    if (!plan.body.joggle) return {};
    const auto shape = plan::joggle_shape(*plan.body.joggle, plan.body.thickness_mm);
    if (!shape) return {};
    const auto profile = plan::joggle_profile(*plan.body.joggle, plan.body.thickness_mm, *shape);
    const auto& seen = profile.upper;
    return {{seen[0].x_mm, seen[1].x_mm}, {seen[2].x_mm, seen[3].x_mm}};
}

class TopView {
  public:
    TopView(const plan::Plan& plan, double overshoot_mm) : plan_(plan), overshoot_mm_(overshoot_mm) {}

    KeyedView draw() {
        keyed_.view = plan_view(plan_, plan::Side::B, {.overshoot_mm = overshoot_mm_});
        keyed_.view.name = "from above";
        add_bend_lines(keyed_.view, plan_, bends_from_above(plan_));
        add_long_centre(keyed_.view, plan_.body.outline, overshoot_mm_);
        for (const plan::CrossHole& hole : plan_.cross_holes) add_cross_hole(hole);
        add_keys();
        return std::move(keyed_);
    }

  private:
    void add_cross_hole(const plan::CrossHole& hole) {
        const Point at{hole.at_mm[0], hole.at_mm[1]}, way{hole.direction[0], hole.direction[1]};
        const Point end = at + way * hole.depth_mm;
        add_line(keyed_.view, LineKind::centre, at - way * overshoot_mm_, end + way * overshoot_mm_);
        if (!hole.thread) return;
        const Point side = plan::left_of(way) * (hole.thread->major_mm / 2.0);
        add_line(keyed_.view, LineKind::hidden, at + side, end + side);
        add_line(keyed_.view, LineKind::hidden, at - side, end - side);
    }

    void add_keys() {
        const plan::Arm& arm = *plan_.arm;
        const plan::Hole& pivot = plan_.holes.front();
        const plan::Hole& eye = plan_.holes[arm.eye_hole];
        const double half_mm = arm.strip_width_mm / 2.0;
        const double middle_mm = arm.length_mm / 2.0;
        add_length(keyed_.keys, "pivot to eye", {}, eye.at_mm, along_x);
        add_length(keyed_.keys, "width", {middle_mm, -half_mm}, {middle_mm, half_mm}, along_y);
        add_diameter(keyed_.keys, "pivot bore", pivot.at_mm, along_y, pivot.diameter_mm);
        if (arm.boss_diameter_mm > 0.0)
            add_diameter(keyed_.keys, "boss", pivot.at_mm, along_y, arm.boss_diameter_mm);
        if (eye.slot_length_mm)
            add_slot(eye);
        else
            add_diameter(keyed_.keys, "eye bore", eye.at_mm, along_y, eye.diameter_mm);
        if (arm.clamp) add_clamp(*arm.clamp);
    }

    void add_slot(const plan::Hole& eye) {
        const Point half_slot{*eye.slot_length_mm / 2.0, 0.0}, half_wide{0.0, eye.diameter_mm / 2.0};
        add_length(keyed_.keys, "slot length", eye.at_mm - half_slot, eye.at_mm + half_slot, along_x);
        add_length(keyed_.keys, "slot width", eye.at_mm - half_wide, eye.at_mm + half_wide, along_y);
    }

    void add_clamp(const plan::Clamp& clamp) {
        const double end_mm = -clamp.lug_end_mm;
        const auto add_across = [&](const char* name, double width_mm) {
            add_length(keyed_.keys, name, {end_mm, -width_mm / 2.0}, {end_mm, width_mm / 2.0}, along_y);
        };
        add_across("slit", clamp.slit_mm);
        add_across("lugs", clamp.lug_width_mm);
        add_length(keyed_.keys, "lug end", {end_mm, 0.0}, {}, along_x);
        add_length(keyed_.keys, "pinch bolt", {-clamp.bolt_behind_mm, 0.0}, {}, along_x);
    }

    const plan::Plan& plan_;
    double overshoot_mm_;
    KeyedView keyed_;
};

KeyedView flat_view(const plan::Plan& plan, const plan::FlatBlank& blank, double overshoot_mm) {
    KeyedView keyed;
    keyed.view = plan_view(blank.plan, plan::Side::B, {.overshoot_mm = overshoot_mm, .with_hidden = false});
    keyed.view.name = "flat blank";
    add_bend_lines(keyed.view, plan, blank.bends_mm);
    add_long_centre(keyed.view, blank.plan.body.outline, overshoot_mm);
    const plan::Box2 box = blank.plan.body.outline.box();
    const double half_mm = plan.arm->strip_width_mm / 2.0;
    const auto eye =
        std::find_if(blank.plan.holes.begin(), blank.plan.holes.end(),
                     [&](const plan::Hole& hole) { return hole.id == plan.holes[plan.arm->eye_hole].id; });
    if (eye != blank.plan.holes.end()) add_length(keyed.keys, "developed length", {}, eye->at_mm, along_x);
    // The strip's own end, not that of a boss or lugs that are put on it.
    const Point first{-half_mm, 0.0};
    add_length(keyed.keys, "strip", first, {box.most.x_mm, 0.0}, along_x);
    add_length(keyed.keys, "over all", {box.least.x_mm, 0.0}, {box.most.x_mm, 0.0}, along_x);
    const double middle_mm = (first.x_mm + box.most.x_mm) / 2.0;
    add_length(keyed.keys, "width", {middle_mm, -half_mm}, {middle_mm, half_mm}, along_y);
    for (const auto& [from_mm, to_mm] : blank.bends_mm) {
        add_length(keyed.keys, "mark", first, {from_mm, 0.0}, along_x);
        add_length(keyed.keys, "mark from axis", {}, {from_mm, 0.0}, along_x);
        add_length(keyed.keys, "allowance", {from_mm, 0.0}, {to_mm, 0.0}, along_x);
    }
    return keyed;
}

}  // namespace

ArmViews arm_views(const plan::Plan& plan, double overshoot_mm) {
    ArmViews views;
    views.top = TopView(plan, overshoot_mm).draw();
    views.side = arm_side(plan, overshoot_mm);
    if (const auto blank = plan::flat_blank(plan)) views.flat = flat_view(plan, *blank, overshoot_mm);
    return views;
}

}  // namespace fitup::sheets
