// Rules eye-wall, eyes-merge, thin-arm and bush-fit: the eyes of cranks and arms, and what is pressed into
// them.
#include <algorithm>

#include "plan/vector.hpp"
#include "rules/checks.hpp"
#include "rules/wording.hpp"

namespace fitup::rules {

namespace {

using plan::Finding;
using plan::Findings;

constexpr double mm_per_um = 0.001;

/// A hole with the boss round it.
struct Eye {
    const plan::Hole* hole = nullptr;
    double outside_mm = 0.0;
};

std::vector<Eye> eyes_of(const plan::Plan& plan) {
    if (plan.arm) {
        const double strip_mm = plan.arm->strip_width_mm;
        return {{&plan.holes.front(), std::max(strip_mm, plan.arm->boss_diameter_mm)},
                {&plan.holes[plan.arm->eye_hole], strip_mm}};
    }
    std::vector<Eye> eyes;
    if (!plan.crank) return eyes;
    eyes.push_back({&plan.holes.front(), plan.crank->hub_diameter_mm});
    for (const plan::CrankArm& arm : plan.crank->arms)
        eyes.push_back({&plan.holes[arm.eye_hole], arm.eye_diameter_mm});
    return eyes;
}

std::optional<Finding> judge_wall(const Subject& subject, const Eye& eye) {
    const Limit limit = subject.limits().of("eye-wall");
    const double nominal = nominal_mm(*eye.hole);
    const double wall_mm = (eye.outside_mm - nominal) / 2.0;
    const auto verdict = under(limit, wall_mm / nominal);
    if (!verdict) return std::nullopt;
    Finding finding =
        hole_finding(subject.plan(), *eye.hole, "eye-wall", *verdict, limit, "d", wall_mm / nominal);
    finding.message = "the wall round " + eye.hole->id + " is " + length_text(wall_mm) + ", " +
                      diameters_text(wall_mm / nominal) + " of its hole: make " +
                      (subject.plan().arm ? "the strip or boss" : "the eye") + " at least " +
                      length_text(nominal * (1.0 + 2.0 * verdict->limit)) + " wide.";
    return finding;
}

Findings judge_merging(const Subject& subject) {
    Findings findings;
    const plan::Plan& plan = subject.plan();
    const auto& arms = plan.crank->arms;
    const Limit limit = subject.limits().of("eyes-merge");
    for (std::size_t i = 0; i < arms.size(); ++i) {
        for (std::size_t k = i + 1; k < arms.size(); ++k) {
            const plan::Hole& first = plan.holes[arms[i].eye_hole];
            const plan::Hole& second = plan.holes[arms[k].eye_hole];
            const double apart_mm = plan::distance_mm(first.at_mm, second.at_mm) -
                                    (arms[i].eye_diameter_mm + arms[k].eye_diameter_mm) / 2.0;
            const auto verdict = under(limit, apart_mm);
            if (!verdict) continue;
            Finding finding = hole_finding(plan, first, "eyes-merge", *verdict, limit, "mm", apart_mm);
            finding.where = first.id + ", " + second.id;
            finding.message =
                (apart_mm < 0.0
                     ? "the eyes of " + finding.where + " run into each other by " + length_text(-apart_mm)
                     : "between the eyes of " + finding.where + " there are only " + length_text(apart_mm)) +
                ": widen the angle between the arms or make one longer, so that what is bolted "
                "to each has room.";
            findings.push_back(std::move(finding));
        }
    }
    return findings;
}

std::optional<Finding> judge_thickness(const Subject& subject) {
    const plan::Plan& plan = subject.plan();
    const Limit limit = subject.limits().of("thin-arm");
    const auto longest = std::max_element(
        plan.crank->arms.begin(), plan.crank->arms.end(),
        [](const plan::CrankArm& a, const plan::CrankArm& b) { return a.length_mm < b.length_mm; });
    const double value = longest->length_mm / plan.body.thickness_mm;
    const auto verdict = over(limit, value);
    if (!verdict) return std::nullopt;
    Finding finding =
        hole_finding(plan, plan.holes[longest->eye_hole], "thin-arm", *verdict, limit, "", value);
    finding.message = "the arm " + longest->name + " is " + length_text(longest->length_mm) + " long and " +
                      length_text(plan.body.thickness_mm) +
                      " thick: it bends sideways and shakes; make the crank at least " +
                      length_text(longest->length_mm / verdict->limit) + " thick.";
    return finding;
}

/// What a bush grips with: positive is interference.
std::optional<Finding> judge_bush(const Subject& subject) {
    const plan::Hole& pivot = subject.plan().holes.front();
    if (!pivot.bush_fit || !pivot.fit) return std::nullopt;
    const double least_mm = (pivot.bush_fit->lower_um - pivot.fit->upper_um) * mm_per_um;
    const double most_mm = (pivot.bush_fit->upper_um - pivot.fit->lower_um) * mm_per_um;
    const Limit limit = subject.limits().of("bush-fit");
    const auto verdict = under(limit, least_mm);
    Finding finding;
    if (verdict) {
        finding = hole_finding(subject.plan(), pivot, "bush-fit", *verdict, limit, "mm", least_mm);
        finding.message = "a bush of " + pivot.bush_fit->tolerance_class + " in " +
                          pivot.fit->tolerance_class + " is held by " + thou_text(least_mm) + " to " +
                          thou_text(most_mm) +
                          " (less than nothing is loose): take a class that always grips.";
    } else {
        finding =
            note_of("bush-fit", pivot.id,
                    "a bush of " + pivot.bush_fit->tolerance_class + " in " + pivot.fit->tolerance_class +
                        " is pressed in with " + thou_text(least_mm) + " to " + thou_text(most_mm) +
                        " of interference, and its bore closes in by about as much: ream it after "
                        "pressing.");
    }
    return finding;
}

}  // namespace

bool is_eye(const plan::Plan& plan, const plan::Hole& hole) {
    const std::vector<Eye> eyes = eyes_of(plan);
    return std::any_of(eyes.begin(), eyes.end(), [&](const Eye& eye) { return eye.hole == &hole; });
}

Findings check_eyes(const Subject& subject) {
    Findings findings;
    for (const Eye& eye : eyes_of(subject.plan())) {
        if (auto finding = judge_wall(subject, eye)) findings.push_back(std::move(*finding));
    }
    if (!subject.plan().crank) return findings;
    for (Finding& finding : judge_merging(subject)) findings.push_back(std::move(finding));
    if (auto finding = judge_thickness(subject)) findings.push_back(std::move(*finding));
    if (auto finding = judge_bush(subject)) findings.push_back(std::move(*finding));
    return findings;
}

}  // namespace fitup::rules
