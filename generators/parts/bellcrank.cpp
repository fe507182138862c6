#include "parts/bellcrank.hpp"

#include "plan/prism_sum.hpp"
#include "plan/vector.hpp"

namespace fitup::parts {

namespace {

using plan::Plan;
using plan::Point;
using plan::Side;

Point along(const CrankArmParameters& arm, double distance_mm) {
    return Point{arm.angle.cos(), arm.angle.sin()} * distance_mm;
}

/// How far the eye reaches each way along the arm from its middle: a slot's arcs have the eye's circle each.
double half_travel_mm(const plan::Hole& eye) {
    return eye.slot_length_mm ? (*eye.slot_length_mm - eye.diameter_mm) / 2.0 : 0.0;
}

plan::Contour eye_contour(const CrankArmParameters& arm) {
    const double travel_mm = half_travel_mm(arm.hole);
    return plan::slot(along(arm, arm.length_mm - travel_mm), along(arm, arm.length_mm + travel_mm),
                      arm.eye.diameter_mm);
}

// Faults: shapes that don't exist.

void check_boss(Reader& reader, const BossParameters& boss, const char* from_key, const char* height_key,
                double thickness_mm) {
    if (boss.low_mm > plan::same_point_mm)
        reader.wrong(boss.field[from_key], "0 or less: it holds the plate, which starts at z = 0");
    const double least_mm = thickness_mm - std::min(boss.low_mm, 0.0);
    if (boss.height_mm < least_mm - plan::same_point_mm)
        reader.wrong(boss.field[height_key],
                     "at least " + reader.length_text(least_mm) + ", which reaches through the plate");
}

void check_hub(Reader& reader, const Bellcrank& crank) {
    check_boss(reader, crank.hub, "hub_from", "hub_height", crank.thickness_mm);
    if (crank.pivot.diameter_mm >= crank.hub.diameter_mm)
        reader.wrong(crank.hub.field["bore"],
                     "less than the hub's diameter, " + reader.length_text(crank.hub.diameter_mm));
}

void check_eye(Reader& reader, const CrankArmParameters& arm, double thickness_mm) {
    check_boss(reader, arm.eye, "from", "height", thickness_mm);
    if (arm.hole.diameter_mm < arm.eye.diameter_mm) return;
    const Field eye = arm.eye.field;
    const Field hole = eye["thread"] ? eye["thread"] : eye["slot"] ? eye["slot"]["width"] : eye["bore"];
    reader.wrong(hole, "less than the eye's diameter, " + reader.length_text(arm.eye.diameter_mm));
}

void check_arm(Reader& reader, const CrankArmParameters& arm, const Bellcrank& crank) {
    check_eye(reader, arm, crank.thickness_mm);
    const double least_mm = (crank.hub.diameter_mm + arm.hole.diameter_mm) / 2.0;
    if (arm.length_mm <= least_mm)
        reader.wrong(arm.field["length"], "more than " + reader.length_text(least_mm) +
                                              ", so that the eye's hole lies outside the hub");
    else if (arm.hole.slot_length_mm &&
             arm.length_mm - *arm.hole.slot_length_mm / 2.0 <= crank.pivot.diameter_mm / 2.0)
        reader.wrong(arm.eye.field["slot"]["length"],
                     "less than " + reader.length_text(2.0 * arm.length_mm - crank.pivot.diameter_mm) +
                         ": the slot is longer than its arm");
}

void check(Reader& reader, const Bellcrank& crank) {
    check_hub(reader, crank);
    for (const CrankArmParameters& arm : crank.arms) check_arm(reader, arm, crank);
}

// The plan.

void add_boss(Plan& plan, const std::string& id, const BossParameters& boss, const plan::Contour& contour) {
    const double above_mm = boss.low_mm + boss.height_mm - plan.body.thickness_mm;
    if (boss.low_mm < -plan::same_point_mm)
        plan.raised.push_back({id + "-boss-A", Side::A, contour, {}, -boss.low_mm});
    if (above_mm > plan::same_point_mm)
        plan.raised.push_back({id + "-boss-B", Side::B, contour, {}, above_mm});
}

std::size_t add_hole(Plan& plan, plan::Hole hole, std::string id, Point at_mm) {
    hole.id = std::move(id);
    hole.at_mm = at_mm;
    hole.through = true;
    hole.depth_mm = plan.body.thickness_mm;
    if (hole.thread) hole.thread->depth_mm = plan.body.thickness_mm;
    plan.holes.push_back(std::move(hole));
    return plan.holes.size() - 1;
}

void add_arm(Plan& plan, const CrankArmParameters& arm) {
    plan::Hole eye = arm.hole;
    eye.slot_direction = arm.angle;
    const std::size_t index = add_hole(plan, eye, arm.name, along(arm, arm.length_mm));
    plan.crank->arms.push_back(
        {arm.name, arm.length_mm, arm.angle, arm.eye.diameter_mm, arm.eye.height_mm, index});
    for (std::size_t i = 0; i < arm.extra_holes.size(); ++i)
        add_hole(plan, arm.extra_holes[i].hole, arm.name + "-extra-" + std::to_string(i + 1),
                 along(arm, arm.extra_holes[i].at_mm));
    if (arm.lightening)
        add_hole(plan, arm.lightening->hole, arm.name + "-lightening", along(arm, arm.lightening->at_mm));
    add_boss(plan, arm.name, arm.eye, eye_contour(arm));
}

/// The circles that the outline's belts run round. A slot's inner circle stands out of its arm's belt only
/// where the eye is wider than the hub.
std::vector<plan::Circle> eye_circles(const Bellcrank& crank) {
    std::vector<plan::Circle> eyes;
    for (const CrankArmParameters& arm : crank.arms) {
        const double travel_mm = half_travel_mm(arm.hole);
        const double radius_mm = arm.eye.diameter_mm / 2.0;
        eyes.push_back({along(arm, arm.length_mm + travel_mm), radius_mm});
        if (travel_mm > 0.0 && arm.eye.diameter_mm > crank.hub.diameter_mm)
            eyes.push_back({along(arm, arm.length_mm - travel_mm), radius_mm});
    }
    return eyes;
}

void add_outline(Reader& reader, const Bellcrank& crank, Plan& plan) {
    const auto outline =
        plan::crank_outline({{}, crank.hub.diameter_mm / 2.0}, eye_circles(crank), crank.inner_radius_mm);
    if (outline) {
        plan.body.outline = *outline;
        return;
    }
    reader.wrong_in_words(
        reader.root()["arms"],
        "the arms make no outline: two of them lie along one another, an eye holds the hub, "
        "or web.inner_radius is larger than what lies between them");
}

}  // namespace

Planned plan_bellcrank(const parameters::Document& document) {
    Reader reader(document, units_of(document));
    const Bellcrank crank = read_bellcrank(reader);
    if (reader.has_faults()) return refused(reader);
    check(reader, crank);
    if (reader.has_faults()) return refused(reader);
    Plan plan = crank.header;
    plan.body.thickness_mm = crank.thickness_mm;
    add_outline(reader, crank, plan);
    if (reader.has_faults()) return refused(reader);
    plan.crank = plan::Crank{crank.hub.diameter_mm, crank.hub.height_mm, {}};
    add_hole(plan, crank.pivot, "pivot", {});
    add_boss(plan, "hub", crank.hub, plan::Contour(plan::Circle{{}, crank.hub.diameter_mm / 2.0}));
    for (const CrankArmParameters& arm : crank.arms) add_arm(plan, arm);
    if (crank.rig_pin) {
        plan::Hole pin;
        pin.diameter_mm = crank.rig_pin->diameter_mm;
        add_hole(plan, pin, "rig-pin", crank.rig_pin->at_mm);
    }
    return {std::move(plan), {}};
}

plan::Work bellcrank_work(const Plan& plan) {
    const plan::Crank& crank = *plan.crank;
    plan::Work work;
    if (crank.arms.size() > 1)
        work.push_back({"ratio", "ratio " + crank.arms[0].name + " : " + crank.arms[1].name,
                        crank.arms[0].length_mm / crank.arms[1].length_mm});
    if (const auto prisms = plan::prism_sum(plan)) {
        const double density_kg_mm3 = plan.material.density_kg_m3 * 1e-9;
        work.push_back({"inertia_kg_mm2", "moment of inertia about the pivot",
                        plan::axial_moment_mm5(*prisms) * density_kg_mm3});
    }
    work.push_back({"pivot_bearing_area_mm2", "bearing area of the pivot",
                    plan.holes[0].diameter_mm * crank.hub_height_mm});
    std::vector<plan::Work> rows;
    for (const plan::CrankArm& arm : crank.arms) {
        const plan::Hole& hole = plan.holes[arm.eye_hole];
        rows.push_back({{"name", "arm", arm.name},
                        {"length_mm", "length", arm.length_mm},
                        {"angle_deg", "at", arm.angle.degrees()},
                        {"bearing_area_mm2", "bearing area", hole.diameter_mm * arm.eye_height_mm}});
        if (hole.slot_length_mm)
            rows.back().push_back({"adjustment_mm", "adjusts by", *hole.slot_length_mm - hole.diameter_mm});
    }
    work.push_back({"arms", "arms", rows});
    return work;
}

}  // namespace fitup::parts
