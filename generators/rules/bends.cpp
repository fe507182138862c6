// Rules in-bend, bend-radius, bend-leg, bend-hole, joggle-stress and clamp-lug: offset arms.
#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "plan/arm_stress.hpp"
#include "plan/joggle.hpp"
#include "rules/checks.hpp"
#include "rules/wording.hpp"

namespace fitup::rules {

namespace {

using plan::Finding;
using plan::Findings;
using plan::Joggle;

double end_mm(const Joggle& joggle) { return joggle.start_mm + joggle.run_mm; }

/// How far a shape on its own side stays from the joggle; negative: how far it reaches in.
double room_mm(const Joggle& joggle, const plan::Box2& box) {
    return std::max(joggle.start_mm - box.most.x_mm, box.least.x_mm - end_mm(joggle));
}

plan::Point3 bend_place(const plan::Plan& plan, bool is_first) {
    const Joggle& joggle = *plan.body.joggle;
    if (is_first) return {joggle.start_mm, 0.0, plan.body.thickness_mm};
    return {end_mm(joggle), 0.0, joggle.rise_mm + plan.body.thickness_mm};
}

Finding in_bend(const plan::Plan& plan, const std::string& id, double reaches_mm) {
    return final_stop_of("in-bend", id,
                         id + " reaches " + length_text(reaches_mm) +
                             " into a bend: move the joggle's start or its run, or make the arm longer.",
                         bend_place(plan, true));
}

/// What reaches into a bend, and where nothing does but the legs still don't end straight, the outline.
Findings judge_in_bend(const Subject& subject) {
    const plan::Plan& plan = subject.plan();
    if (plan::legs(plan)) return {};
    Findings findings;
    for (const Owner& owner : subject.owners()) {
        const double room = room_mm(*plan.body.joggle, subject.cuts()[owner.first_cut].area.outer.box());
        if (room < -plan::same_point_mm) findings.push_back(in_bend(plan, owner.id, -room));
    }
    for (const plan::Raised& ring : plan.raised) {
        const double room = room_mm(*plan.body.joggle, ring.outer.box());
        if (room < -plan::same_point_mm) findings.push_back(in_bend(plan, ring.id, -room));
    }
    if (findings.empty())
        findings.push_back(final_stop_of("in-bend", "outline",
                                         "the round end or the pivot's boss reaches into a bend: move the "
                                         "joggle's start or its run, or make the arm longer.",
                                         bend_place(plan, true)));
    return findings;
}

std::optional<Finding> judge_radius(const Subject& subject) {
    const plan::Plan& plan = subject.plan();
    const double thickness_mm = plan.body.thickness_mm;
    const double value = plan.body.joggle->inside_radius_mm / thickness_mm;
    const Limit limit =
        subject.limits().of("bend-radius", bend_radius_limit(plan.material.family, thickness_mm));
    const auto verdict = under(limit, value);
    if (!verdict) return std::nullopt;
    Finding finding = finding_of("bend-radius", *verdict, limit, "t", value);
    finding.where = "bend-1, bend-2";
    finding.at_mm = bend_place(plan, true);
    finding.message = "the inside radius of the bends is " + length_text(plan.body.joggle->inside_radius_mm) +
                      ", " + short_text(value, 2) + " times the thickness: " + material_text(plan.material) +
                      " of this thickness may crack; make it at least " +
                      length_text(verdict->limit * thickness_mm) +
                      " and bend across the grain, or take a softer temper.";
    return finding;
}

/// Cast iron does not bend at all.
std::optional<Finding> judge_brittle(const Subject& subject) {
    const plan::Plan& plan = subject.plan();
    if (plan.material.family != "cast iron") return std::nullopt;
    Finding finding = finding_of("bend-radius", {plan::Severity::stop, 0.0}, {}, "t", 0.0);
    finding.value.reset();
    finding.limit.reset();
    finding.source = "common practice, no source";
    finding.where = "bend-1, bend-2";
    finding.at_mm = bend_place(plan, true);
    finding.message = "cast iron breaks when it is bent: take steel, or have the shape cast.";
    return finding;
}

Limit leg_limit(const Subject& subject, bool is_between) {
    const plan::Plan& plan = subject.plan();
    const double least_mm = 2.0 * plan.body.thickness_mm + plan.body.joggle->inside_radius_mm;
    Limit usual = Limits().of("bend-leg");
    (is_between ? usual.note : usual.warn) = least_mm;
    return is_between ? usual : subject.limits().of("bend-leg", usual);
}

std::optional<Finding> judge_leg(const Subject& subject, const std::string& where, double length_mm,
                                 bool is_first) {
    const Limit limit = leg_limit(subject, false);
    const auto verdict = under(limit, length_mm);
    if (!verdict) return std::nullopt;
    Finding finding = finding_of("bend-leg", *verdict, limit, "mm", length_mm);
    finding.where = where;
    finding.at_mm = bend_place(subject.plan(), is_first);
    finding.message = "the straight strip beyond " + where + " is " + length_text(length_mm) +
                      " long: a vice or brake wants " + length_text(verdict->limit) +
                      " to hold; move the joggle, or bend a longer strip and cut it off afterwards.";
    return finding;
}

std::optional<Finding> judge_between(const Subject& subject) {
    const plan::Plan& plan = subject.plan();
    const auto shape = plan::joggle_shape(*plan.body.joggle, plan.body.thickness_mm);
    if (!shape) return std::nullopt;
    const Limit limit = leg_limit(subject, true);
    const auto verdict = under(limit, shape->straight_mm);
    if (!verdict) return std::nullopt;
    Finding finding = finding_of("bend-leg", *verdict, limit, "mm", shape->straight_mm);
    finding.where = "joggle";
    finding.at_mm = bend_place(plan, false);
    finding.message =
        "between the bends there are " + length_text(shape->straight_mm) +
        " of straight strip, too little to hold for the second bend: press both at once between "
        "two offset blocks, or make the run longer until " +
        length_text(verdict->limit) + " stay.";
    return finding;
}

Findings judge_legs(const Subject& subject) {
    const plan::Plan& plan = subject.plan();
    const plan::Box2 strip = plan.body.outline.box();
    const double before_mm =
        plan.body.joggle->start_mm + (plan.arm ? plan.arm->strip_width_mm / 2.0 : -strip.least.x_mm);
    Findings findings;
    if (auto finding = judge_leg(subject, "bend-1", before_mm, true)) findings.push_back(*finding);
    if (auto finding = judge_leg(subject, "bend-2", strip.most.x_mm - end_mm(*plan.body.joggle), false))
        findings.push_back(*finding);
    if (auto finding = judge_between(subject)) findings.push_back(*finding);
    return findings;
}

Findings judge_holes(const Subject& subject) {
    const plan::Plan& plan = subject.plan();
    const Joggle& joggle = *plan.body.joggle;
    Limit usual = Limits().of("bend-hole");
    usual.warn = 2.5 * plan.body.thickness_mm + joggle.inside_radius_mm;
    const Limit limit = subject.limits().of("bend-hole", usual);
    Findings findings;
    for (const Owner& owner : subject.owners()) {
        if (owner.is_pocket) continue;
        const double room = room_mm(joggle, subject.cuts()[owner.first_cut].area.outer.box());
        const auto verdict = under(limit, room);
        if (!verdict || room < 0.0) continue;
        Finding finding =
            hole_finding(plan, plan.holes[owner.index], "bend-hole", *verdict, limit, "mm", room);
        finding.message = "the edge of " + owner.id + " lies " + length_text(room) +
                          " from a bend, which pulls it oval: leave " + length_text(verdict->limit) +
                          ", or drill it after bending.";
        findings.push_back(std::move(finding));
    }
    return findings;
}

std::optional<Finding> judge_stress(const Subject& subject) {
    const plan::Plan& plan = subject.plan();
    const auto stress = plan::joggle_stress(plan);
    if (!stress || !plan.material.yield_mpa) return std::nullopt;
    const double value = *plan.material.yield_mpa / stress->worst_mpa();
    const Limit limit = subject.limits().of("joggle-stress");
    const auto verdict = under(limit, value);
    if (!verdict) return std::nullopt;
    Finding finding = finding_of("joggle-stress", *verdict, limit, "", value);
    finding.where = "bend-1";
    finding.at_mm = bend_place(plan, true);
    finding.message = "under " + short_text(*plan.arm->rod_force_n, 0) + " N the first bend bears " +
                      short_text(stress->worst_mpa(), 0) + " MPa with the rod " +
                      (stress->across_mpa > stress->along_mpa ? "square to the arm" : "along the arm") +
                      ", and the material yields at " + short_text(*plan.material.yield_mpa, 0) +
                      " MPa: make the strip wider or thicker, the arm shorter or the rise less.";
    return finding;
}

std::optional<Finding> judge_clamp(const Subject& subject) {
    const plan::Plan& plan = subject.plan();
    if (!plan.arm || !plan.arm->clamp || plan.cross_holes.empty()) return std::nullopt;
    const double hole_mm = plan.cross_holes.front().diameter_mm;
    const double wall_mm = (plan.arm->clamp->lug_height_mm - hole_mm) / 2.0;
    const Limit limit = subject.limits().of("clamp-lug");
    const auto verdict = under(limit, wall_mm);
    if (!verdict) return std::nullopt;
    Finding finding = finding_of("clamp-lug", *verdict, limit, "mm", wall_mm);
    finding.where = plan.cross_holes.front().id;
    finding.at_mm = plan.cross_holes.front().at_mm;
    finding.message = "above and below the pinch bolt's hole " + length_text(wall_mm) +
                      " is left: make the boss at least " + length_text(hole_mm + 2.0 * verdict->limit) +
                      " high, or take a thinner bolt.";
    return finding;
}

}  // namespace

Findings check_bends(const Subject& subject) {
    Findings findings;
    const auto add = [&findings](std::optional<Finding> finding) {
        if (finding) findings.push_back(std::move(*finding));
    };
    add(judge_clamp(subject));
    if (!subject.plan().body.joggle) return findings;
    for (const auto judge : {judge_in_bend, judge_legs, judge_holes}) {
        for (Finding& finding : judge(subject)) findings.push_back(std::move(finding));
    }
    add(judge_radius(subject));
    add(judge_brittle(subject));
    add(judge_stress(subject));
    return findings;
}

}  // namespace fitup::rules
