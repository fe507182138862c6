// Rules register-fit and register-slack: registers and the bore on what they locate, in the shop and warm.
#include <algorithm>
#include <cmath>

#include "base/both_units.hpp"
#include "base/text.hpp"
#include "plan/mating.hpp"
#include "rules/checks.hpp"
#include "rules/wording.hpp"
#include "trade/housings.hpp"
#include "trade/trade.hpp"

namespace fitup::rules {

namespace {

using plan::Finding;
using plan::Findings;
using plan::Side;

/// How much warmer than the shop a machine's castings run: 20 to 80 degrees Celsius, common practice, no
/// source.
constexpr double warmer_k = 60.0;
using Range = plan::SizeRange;

/// With what the other part is made of.
struct Mating : plan::Mating {
    std::optional<plan::Material> other;
    bool other_is_assumed = false;
};

/// What old castings are made of, where the file does not say: the first grey iron of the table.
std::optional<plan::Material> usual_casting() {
    const trade::MaterialRow* iron = trade::find_material("grey cast iron");
    if (iron == nullptr) return std::nullopt;
    plan::Material material;
    material.name = iron->name;
    material.family = iron->family;
    material.expansion_per_k = iron->expansion_per_k;
    return material;
}

void set_other(Mating& mating, const plan::Plan& plan, std::initializer_list<Side> sides) {
    for (const Side side : sides) {
        if (!mating.other) mating.other = plan.side_materials[side == Side::A ? 0 : 1];
    }
    mating.other_is_assumed = !mating.other;
    if (!mating.other) mating.other = usual_casting();
}

std::optional<Mating> mating_of(const plan::Plan& plan, const plan::Register& reg) {
    const auto known = plan::mating_of(reg);
    if (!known) return std::nullopt;
    Mating mating{*known, {}, false};
    set_other(mating, plan, {reg.side});
    return mating;
}

/// A bore does not say from which side it is entered: whichever side's material is given, B first.
std::optional<Mating> mating_of(const plan::Plan& plan, const plan::Hole& hole) {
    const auto known = plan::mating_of(hole);
    if (!known) return std::nullopt;
    Mating mating{*known, {}, false};
    set_other(mating, plan, {Side::B, Side::A});
    return mating;
}

/// Nothing where both grow alike, or where the part is a print that never runs.
std::optional<Range> warm_clearance_of(const plan::Plan& plan, const Mating& mating) {
    const auto own = plan.material.expansion_per_k;
    if (!own || !mating.other || !mating.other->expansion_per_k || plan.material.family == "plastic")
        return std::nullopt;
    const double other = *mating.other->expansion_per_k;
    if (other == *own) return std::nullopt;
    const double inner = 1.0 + warmer_k * (mating.plate_enters ? *own : other);
    const double outer = 1.0 + warmer_k * (mating.plate_enters ? other : *own);
    return Range{mating.outside.least_mm * outer - mating.inside.most_mm * inner,
                 mating.outside.most_mm * outer - mating.inside.least_mm * inner};
}

/// Limits of a fit need the micrometre.

std::string range_text(const Range& range) {
    if (range.most_mm - range.least_mm < equal_values) return both_units(range.least_mm);
    return both_units(range.least_mm) + " to " + both_units(range.most_mm);
}

std::string clearance_text(double clearance_mm) {
    return thou_text(std::abs(clearance_mm)) + (clearance_mm < 0.0 ? " interference" : " clearance");
}

std::string clearance_text(const Range& range) {
    if (range.most_mm - range.least_mm < equal_values) return clearance_text(range.least_mm);
    return clearance_text(range.least_mm) + " to " + clearance_text(range.most_mm);
}

std::string metals_text(const plan::Plan& plan, const Mating& mating) {
    const std::string own = material_text(plan.material);
    const std::string other =
        mating.other->name +
        (mating.other_is_assumed ? ", taken as such since side_materials does not say" : "");
    return mating.plate_enters ? own + " in " + other : "the plate of " + own + " on " + other;
}

Finding fit_finding(const Subject& subject, const Mating& mating, const Range& cold,
                    const std::optional<Range>& warm) {
    const double least_mm = std::min(cold.least_mm, warm ? warm->least_mm : cold.least_mm);
    const Limit limit = subject.limits().of("register-fit");
    const auto verdict = under(limit, least_mm);
    Finding finding =
        finding_of("register-fit", verdict.value_or(Verdict{plan::Severity::note, limit.warn.value_or(0.0)}),
                   limit, "mm", least_mm);
    finding.where = mating.where;
    finding.message = mating.where + ": " + range_text(mating.inside) + " in " + range_text(mating.outside) +
                      ", " + clearance_text(cold) + " on the diameter in the shop";
    if (warm)
        finding.message +=
            "; with both 60 K warmer (" + metals_text(subject.plan(), mating) + ") " + clearance_text(*warm);
    if (!verdict) finding.message += ".";
    if (verdict && cold.least_mm < 0.0) finding.message += ": open it, unless it is meant to be pressed.";
    if (verdict && cold.least_mm >= 0.0)
        finding.message +=
            ": it will be tight when the machine is warm; assemble and part it cold, or give more clearance "
            "and locate by dowels.";
    return finding;
}

std::optional<Finding> slack_finding(const Subject& subject, const Mating& mating, const Range& cold) {
    Limit usual = Limits().of("register-slack");
    usual.warn = trade::housing_reading_mm(mating.outside.least_mm);
    const Limit limit = subject.limits().of("register-slack", usual);
    const auto verdict = over(limit, cold.most_mm);
    if (!verdict) return std::nullopt;
    Finding finding = finding_of("register-slack", *verdict, limit, "mm", cold.most_mm);
    finding.where = mating.where;
    finding.message = mating.where + " may have " + clearance_text(cold.most_mm) +
                      " on the diameter: the shafts may stand " + thou_text(cold.most_mm / 2.0) +
                      " apart, a full reading of " + thou_text(cold.most_mm) + " where " +
                      thou_text(verdict->limit) +
                      " is allowed; make it closer, or set it by the shaft and ream the dowels at assembly.";
    return finding;
}

void judge(const Subject& subject, const Mating& mating, plan::Point3 at_mm, Findings& findings) {
    const Range cold = clearance_of(mating);
    const auto add = [&findings, at_mm](Finding finding) {
        finding.at_mm = at_mm;
        findings.push_back(std::move(finding));
    };
    add(fit_finding(subject, mating, cold, warm_clearance_of(subject.plan(), mating)));
    if (auto slack = slack_finding(subject, mating, cold)) add(std::move(*slack));
}

/// A fit whose counterpart is not known: its limits in numbers.
Finding limits_note(const std::string& where, double diameter_mm, const plan::Fit& fit, plan::Point3 at_mm) {
    Finding finding =
        note_of("register-fit", where,
                where + ": " + short_text(diameter_mm) + " " + fit.tolerance_class + " is " +
                    range_text(plan::limits_of(diameter_mm, fit)) +
                    "; measure what goes with it and give that, so that the clearance can be said.");
    finding.source = fit.source;
    finding.at_mm = at_mm;
    return finding;
}

}  // namespace

Findings check_registers(const Subject& subject) {
    const plan::Plan& plan = subject.plan();
    Findings findings;
    for (const plan::Register& reg : plan.registers) {
        const plan::Point3 at{reg.diameter_mm / 2.0, 0.0, face_z_mm(plan, reg.side)};
        if (const auto mating = mating_of(plan, reg))
            judge(subject, *mating, at, findings);
        else if (reg.fit)
            findings.push_back(limits_note(std::string("register-") + plan::to_text(reg.side),
                                           reg.diameter_mm, *reg.fit, at));
    }
    for (const plan::Hole& hole : plan.holes) {
        if (const auto mating = mating_of(plan, hole))
            judge(subject, *mating, place_of(plan, hole), findings);
        else if (hole.kind == plan::HoleKind::bore && hole.fit && !hole.bush_fit)
            findings.push_back(limits_note(hole.id, hole.diameter_mm, *hole.fit, place_of(plan, hole)));
    }
    return findings;
}

}  // namespace fitup::rules
