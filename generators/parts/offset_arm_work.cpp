// What an offset arm is worked out to be: for the bench where it is bent.
#include <cmath>

#include "base/text.hpp"
#include "parts/arm_outline.hpp"
#include "parts/offset_arm.hpp"
#include "plan/arm_stress.hpp"
#include "plan/joggle.hpp"
#include "plan/springback.hpp"

namespace fitup::parts {

namespace {

using plan::Work;

/// What the K factor is in practice, from a tight bend in soft metal to a wide one.
constexpr double least_k = 0.33;
constexpr double most_k = 0.50;

/// From the pivot's axis to the strip's pivot end.
double end_behind_mm(const plan::Plan& plan) { return plan.arm->strip_width_mm / 2.0; }

double half_travel_mm(const plan::Plan& plan) {
    const plan::Hole& eye = plan.holes[plan.arm->eye_hole];
    return eye.slot_length_mm ? (*eye.slot_length_mm - eye.diameter_mm) / 2.0 : 0.0;
}

/// From pivot axis to eye centre on the flat strip.
double developed_mm(const plan::Plan& plan, const plan::JoggleShape& shape) {
    return plan.arm->length_mm - plan.body.joggle->run_mm + shape.developed_mm;
}

double developed_with_mm(const plan::Plan& plan, double k_factor) {
    plan::Joggle joggle = *plan.body.joggle;
    joggle.k_factor = k_factor;
    return developed_mm(plan, *plan::joggle_shape(joggle, plan.body.thickness_mm));
}

void add_lengths(Work& work, const plan::Plan& plan, double developed_mm) {
    work.push_back({"developed_length_mm", "developed length, pivot axis to eye centre", developed_mm});
    work.push_back({"cut_length_mm", "strip to cut, over all",
                    developed_mm + half_travel_mm(plan) + plan.arm->strip_width_mm});
}

void add_bends(Work& work, const plan::Plan& plan, const plan::JoggleShape& shape) {
    const plan::Joggle& joggle = *plan.body.joggle;
    const double first_mm = end_behind_mm(plan) + joggle.start_mm;
    work.push_back({"bend_marks_mm", "start of each bend, from the strip's pivot end",
                    std::vector<double>{first_mm, first_mm + shape.allowance_mm + shape.straight_mm}});
    work.push_back({"bend_allowance_mm", "taken by each bend", shape.allowance_mm});
    work.push_back({"straight_between_bends_mm", "straight between the bends", shape.straight_mm});
    work.push_back({"order", "order",
                    std::string("mark the flat strip, ") + (joggle.rise_mm > 0.0 ? "bend up" : "bend down") +
                        " at the first mark, turn the strip over, bend back at the second"});
    work.push_back({"developed_for_k_mm",
                    "developed length for K " + fixed_text(least_k, 2) + " to " + fixed_text(most_k, 2) +
                        " (this file: " + short_text(joggle.k_factor) + ")",
                    std::vector<double>{developed_with_mm(plan, least_k), developed_with_mm(plan, most_k)}});
    if (const auto back =
            plan::springback(plan.material, joggle.inside_radius_mm, plan.body.thickness_mm, shape.bend)) {
        work.push_back({"springback_deg", "springback of each bend, " + back->source,
                        std::vector<double>{back->least.degrees(), back->most.degrees()}});
    }
    work.push_back({"advice", "first",
                    std::string("bend a test strip of the same bar: measure what it grows and how far it "
                                "springs back, and put its K factor into `bending`")});
}

void add_blank(Work& work, const plan::Plan& plan) {
    const auto blank = plan::flat_blank(plan);
    if (!blank) return;
    std::vector<Work> rows;
    for (const plan::Hole& hole : blank->plan.holes)
        rows.push_back({{"id", "hole", hole.id},
                        {"mark_mm", "from the strip's pivot end", end_behind_mm(plan) + hole.at_mm.x_mm}});
    work.push_back({"blank_holes", "holes on the flat strip", rows});
}

void add_clamp(Work& work, const plan::Clamp& clamp) {
    work.push_back({"clamp", "clamp",
                    Work{{"bolt", "pinch bolt", clamp.bolt},
                         {"lug_width_mm", "lugs over all along Y", clamp.lug_width_mm},
                         {"lug_height_mm", "high", clamp.lug_height_mm},
                         {"lug_end_mm", "their end behind the pivot's axis", clamp.lug_end_mm},
                         {"bolt_behind_mm", "bolt behind the axis", clamp.bolt_behind_mm},
                         {"seat_mm", "room for head or washer", clamp.seat_mm}}});
}

void add_stress(Work& work, const plan::Plan& plan) {
    const auto stress = plan::joggle_stress(plan);
    if (!stress) return;
    work.push_back({"joggle_stress_mpa", "stress at the first bend, rod square to the arm, and along it",
                    std::vector<double>{stress->across_mpa, stress->along_mpa}});
}

}  // namespace

Work offset_arm_work(const plan::Plan& plan) {
    Work work;
    const auto shape =
        plan.body.joggle ? plan::joggle_shape(*plan.body.joggle, plan.body.thickness_mm) : std::nullopt;
    work.push_back({"bend_angle_deg", "each bend", shape ? shape->bend.degrees() : 0.0});
    add_lengths(work, plan, shape ? developed_mm(plan, *shape) : plan.arm->length_mm);
    if (shape)
        add_bends(work, plan, *shape);
    else
        work.push_back({"bend_marks_mm", "bends", std::vector<double>{}});
    add_blank(work, plan);
    if (plan.arm->clamp) add_clamp(work, *plan.arm->clamp);
    if (half_travel_mm(plan) > 0.0)
        work.push_back({"adjustment_mm", "the eye adjusts by", 2.0 * half_travel_mm(plan)});
    add_stress(work, plan);
    return work;
}

}  // namespace fitup::parts
