#include "parts/offset_arm.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "parts/arm_outline.hpp"
#include "parts/common_header.hpp"
#include "plan/joggle.hpp"

namespace fitup::parts {

namespace {

using plan::Plan;
using plan::Point;
using plan::Side;

/// How far a slotted eye reaches each way from its middle to its arcs' centres.
double half_travel_mm(const plan::Hole& eye) {
    return eye.slot_length_mm ? (*eye.slot_length_mm - eye.diameter_mm) / 2.0 : 0.0;
}

double eye_reach_mm(const plan::Hole& eye) { return half_travel_mm(eye) + eye.diameter_mm / 2.0; }

/// Where the far round end's centre is.
double far_mm(const OffsetArm& arm) { return arm.length_mm + half_travel_mm(arm.eye); }

double height_mm(const OffsetArm& arm) { return arm.boss ? arm.boss->height_mm : arm.thickness_mm; }

double pivot_outside_mm(const OffsetArm& arm) {
    return std::max(arm.width_mm, arm.boss ? arm.boss->diameter_mm : 0.0);
}

// Faults: shapes that don't exist.

/// The last digit shown is rounded to the safe side, so that the number works when it is typed in.
std::string at_least(const Reader& reader, double length_mm) {
    const double step_mm = reader.units() == plan::Units::in ? 1e-4 * 25.4 : 1e-3;
    return reader.length_text(std::ceil(length_mm / step_mm - 1e-6) * step_mm);
}
std::string at_most(const Reader& reader, double length_mm) {
    const double step_mm = reader.units() == plan::Units::in ? 1e-4 * 25.4 : 1e-3;
    return reader.length_text(std::floor(length_mm / step_mm + 1e-6) * step_mm);
}

void check_bends(Reader& reader, const plan::Joggle& joggle, double thickness_mm) {
    if (plan::joggle_shape(joggle, thickness_mm)) return;
    const plan::JoggleLimits limits = plan::joggle_limits(joggle, thickness_mm);
    std::vector<std::string> instead;
    const std::string down = joggle.rise_mm < 0.0 ? "-" : "";
    if (limits.most_rise_mm)
        instead.push_back("a rise of " + down + at_most(reader, *limits.most_rise_mm) + " at most");
    if (limits.most_inside_radius_mm)
        instead.push_back("an inside_radius of " + at_most(reader, *limits.most_inside_radius_mm) +
                          " at most");
    const Field field = reader.root()["joggle"];
    reader.wrong(field["run"],
                 "at least " + at_least(reader, limits.least_run_mm) +
                     ": on a shorter run no bend angle up to "
                     "90 degrees reaches this rise with this inside radius and thickness",
                 instead.empty() ? "" : "or, with this run, " + or_list(instead));
}

void check_joggle(Reader& reader, const OffsetArm& arm) {
    if (!arm.joggle) return;
    check_bends(reader, *arm.joggle, arm.thickness_mm);
    const double end_mm = arm.joggle->start_mm + arm.joggle->run_mm;
    if (end_mm > far_mm(arm) + plan::same_point_mm)
        reader.wrong(reader.root()["length"],
                     "at least " + at_least(reader, end_mm - half_travel_mm(arm.eye)) +
                         ", so that the second bend ends before the strip's round end");
}

void check_pivot(Reader& reader, const OffsetArm& arm) {
    const Field pivot = reader.root()["pivot"];
    const double outside_mm = pivot_outside_mm(arm);
    if (arm.pivot.diameter_mm >= outside_mm)
        reader.wrong(
            pivot["bore"],
            std::string("less than the ") +
                (arm.boss && arm.boss->diameter_mm >= arm.width_mm ? "boss's diameter" : "strip's width") +
                ", " + reader.length_text(outside_mm));
    if (!arm.boss) return;
    if (arm.boss->height_mm < arm.thickness_mm - plan::same_point_mm)
        reader.wrong(arm.boss->field["height"],
                     "at least the strip's thickness, " + reader.length_text(arm.thickness_mm));
    if (arm.pivot.diameter_mm >= arm.boss->diameter_mm)
        reader.wrong(arm.boss->field["diameter"],
                     "more than the bore, " + reader.length_text(arm.pivot.diameter_mm));
}

void check_clamp(Reader& reader, const OffsetArm& arm) {
    if (!arm.clamp || !arm.clamp->bolt) return;
    if (arm.clamp->slit_mm >= arm.pivot.diameter_mm)
        reader.wrong(arm.clamp->field["slit"],
                     "less than the bore, " + reader.length_text(arm.pivot.diameter_mm));
    const double hole_mm = bolt_clearance_mm(arm.clamp->bolt->designation);
    if (hole_mm < height_mm(arm)) return;
    reader.wrong(arm.boss ? arm.boss->field["height"] : arm.clamp->field["bolt"],
                 arm.boss ? "more than the pinch bolt's hole, " + reader.length_text(hole_mm)
                          : "a bolt whose hole (" + reader.length_text(hole_mm) + ") the lugs hold",
                 arm.boss ? "" : "without a boss they are as high as the strip is thick");
}

void check_eye(Reader& reader, const OffsetArm& arm) {
    const Field eye = reader.root()["eye"];
    const Field hole = eye["thread"] ? eye["thread"] : eye["slot"] ? eye["slot"]["width"] : eye["bore"];
    if (arm.eye.diameter_mm >= arm.width_mm)
        reader.wrong(hole, "less than the strip's width, " + reader.length_text(arm.width_mm));
    const double bore_mm = arm.pivot.diameter_mm / 2.0;
    if (arm.eye.slot_length_mm && arm.length_mm - eye_reach_mm(arm.eye) <= bore_mm) {
        reader.wrong(eye["slot"]["length"], "less than " +
                                                reader.length_text(2.0 * (arm.length_mm - bore_mm)) +
                                                ": the slot is longer than its arm");
        return;
    }
    const double boss_mm = arm.boss ? arm.boss->diameter_mm / 2.0 : 0.0;
    const double least_mm = std::max(boss_mm, bore_mm) + eye_reach_mm(arm.eye);
    if (arm.length_mm <= least_mm)
        reader.wrong(reader.root()["length"], "more than " + reader.length_text(least_mm) +
                                                  ", so that the eye lies outside the pivot's " +
                                                  (boss_mm > bore_mm ? "boss" : "bore"));
}

// The plan.

void add_hole(Plan& plan, plan::Hole hole, const std::string& id, Point at_mm) {
    hole.id = id;
    hole.at_mm = at_mm;
    hole.through = true;
    hole.depth_mm = plan.body.thickness_mm;
    if (hole.thread) hole.thread->depth_mm = plan.body.thickness_mm;
    plan.holes.push_back(std::move(hole));
}

/// The pinch bolt's two holes, both drilled from +Y: clear to the slit, tapped beyond it.
void add_bolt_holes(Plan& plan, const plan::Clamp& clamp, plan::Thread bolt) {
    const double half_mm = clamp.lug_width_mm / 2.0;
    const double deep_mm = half_mm - clamp.slit_mm / 2.0;
    const double z_mm = clamp.lug_height_mm / 2.0;
    plan::CrossHole clear;
    clear.id = "pinch-clear";
    clear.kind = plan::HoleKind::clearance;
    clear.at_mm = {-clamp.bolt_behind_mm, half_mm, z_mm};
    clear.direction = {0, -1, 0};
    clear.diameter_mm = bolt_clearance_mm(clamp.bolt);
    clear.depth_mm = deep_mm;
    clear.fastener = plan::Fastener{clamp.bolt, bolt.major_mm};
    plan::CrossHole tapped = clear;
    tapped.id = "pinch-tapped";
    tapped.kind = plan::HoleKind::tapped;
    tapped.at_mm[1] = -clamp.slit_mm / 2.0;
    tapped.diameter_mm = bolt.tap_drill_mm;
    tapped.fastener.reset();
    bolt.depth_mm = deep_mm;
    tapped.thread = std::move(bolt);
    plan.cross_holes = {std::move(clear), std::move(tapped)};
}

void add_slit(Plan& plan, const plan::Clamp& clamp) {
    plan::Pocket slit;
    slit.id = "slit";
    slit.side = Side::B;
    slit.areas.push_back({slit_outline(clamp), {}});
    slit.depth_mm = plan.body.thickness_mm;
    slit.through = true;
    plan.pockets.push_back(std::move(slit));
}

Plan planned(const OffsetArm& arm) {
    Plan plan = arm.header;
    plan.arm = plan::Arm{arm.length_mm,   arm.width_mm, arm.boss ? arm.boss->diameter_mm : 0.0, 1,
                         arm.rod_force_n, std::nullopt};
    if (arm.clamp)
        plan.arm->clamp = sized_clamp(*arm.clamp->bolt, arm.clamp->slit_mm, arm.pivot.diameter_mm,
                                      pivot_outside_mm(arm), height_mm(arm), plan.material.family);
    const auto& clamp = plan.arm->clamp;
    plan.body.thickness_mm = arm.thickness_mm;
    plan.body.outline = arm_outline(arm.width_mm, far_mm(arm), pivot_outside_mm(arm), clamp);
    plan.body.joggle = arm.joggle;
    if (arm.boss && arm.boss->height_mm > arm.thickness_mm + plan::same_point_mm)
        plan.raised.push_back({"boss",
                               Side::B,
                               boss_outline(arm.boss->diameter_mm, clamp),
                               {},
                               arm.boss->height_mm - arm.thickness_mm});
    add_hole(plan, arm.pivot, "pivot", {});
    add_hole(plan, arm.eye, "eye", {arm.length_mm, 0.0});
    if (clamp) {
        add_slit(plan, *clamp);
        add_bolt_holes(plan, *clamp, *arm.clamp->bolt);
    }
    return plan;
}

}  // namespace

Planned plan_offset_arm(const parameters::Document& document) {
    Reader reader(document, units_of(document));
    const OffsetArm arm = read_offset_arm(reader);
    if (reader.has_faults()) return refused(reader);
    check_joggle(reader, arm);
    check_pivot(reader, arm);
    check_clamp(reader, arm);
    check_eye(reader, arm);
    if (reader.has_faults()) return refused(reader);
    return {planned(arm), {}};
}

}  // namespace fitup::parts
