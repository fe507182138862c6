#include "rules/wording.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "base/units.hpp"
#include "rules/rules.hpp"

namespace fitup::rules {

namespace {}  // namespace

std::string length_text(double mm) {
    const int decimals = std::abs(mm) < 1.0 ? 3 : 2;
    return short_text(mm, decimals) + " mm (" + short_text(mm / mm_per_inch, decimals + 1) + " in)";
}

std::string thou_text(double mm) {
    return short_text(mm, 3) + " mm (" + short_text(mm / mm_per_inch * 1000.0, 1) + " thou)";
}

std::string diameters_text(double diameters) { return short_text(diameters, 2) + " d"; }

std::string material_text(const plan::Material& material) {
    return material.family.empty() ? "this material" : material.family;
}

double nominal_mm(const plan::Hole& hole) {
    if (hole.thread) return hole.thread->major_mm;
    if (hole.fastener) return hole.fastener->diameter_mm;
    return hole.finish_diameter_mm.value_or(hole.diameter_mm);
}

std::string size_text(const plan::Hole& hole) {
    if (hole.thread) return hole.thread->designation;
    if (hole.fastener) return hole.fastener->designation;
    return short_text(nominal_mm(hole), 2) + " mm";
}

double face_z_mm(const plan::Plan& plan, plan::Side side) {
    return side == plan::Side::A ? 0.0 : plan.body.thickness_mm;
}

std::string name_of(const plan::Cut& cut) {
    switch (cut.role) {
        case plan::CutRole::recess:
            return "the recess of " + cut.id;
        case plan::CutRole::countersink:
            return "the countersink of " + cut.id;
        case plan::CutRole::point:
            return "the drill point of " + cut.id;
        default:
            return cut.id;
    }
}

plan::Point3 place_of(const plan::Plan& plan, const plan::Hole& hole) {
    return {hole.at_mm.x_mm, hole.at_mm.y_mm, plan::level_mm(plan, hole.at_mm) + face_z_mm(plan, hole.from)};
}

std::string and_list(const std::vector<std::string>& words, std::size_t most) {
    const std::size_t named = std::min(most, words.size());
    const std::size_t rest = words.size() - named;
    std::string text;
    for (std::size_t i = 0; i < named; ++i) {
        const bool is_last = i + 1 == named && rest == 0;
        text += (i == 0 ? "" : is_last ? " and " : ", ") + words[i];
    }
    return rest == 0 ? text : text + " and " + std::to_string(rest) + " more";
}

namespace {

/// "7" of "gearbox-7"; 0 where the id has no ordinal.
int ordinal_of(const plan::Hole& hole) {
    const std::string start = hole.pattern + "-";
    if (hole.pattern.empty() || !hole.id.starts_with(start)) return 0;
    return static_cast<int>(parse_number(hole.id.substr(start.size())).value_or(0.0));
}

bool follows(const plan::Hole& hole, const plan::Hole& before) {
    return ordinal_of(before) > 0 && hole.pattern == before.pattern &&
           ordinal_of(hole) == ordinal_of(before) + 1;
}

}  // namespace

std::string holes_text(const plan::Plan& plan, const std::vector<std::size_t>& holes) {
    std::string text;
    for (std::size_t i = 0; i < holes.size();) {
        std::size_t last = i;
        while (last + 1 < holes.size() && follows(plan.holes[holes[last + 1]], plan.holes[holes[last]]))
            ++last;
        text += (i == 0 ? "" : ", ") + plan.holes[holes[i]].id;
        if (last > i) text += (last == i + 1 ? ", " : " to ") + plan.holes[holes[last]].id;
        i = last + 1;
    }
    return text;
}

plan::Finding finding_of(std::string rule, const Verdict& verdict, const Limit& limit, std::string unit,
                         double value) {
    plan::Finding finding;
    finding.rule = std::move(rule);
    finding.severity = verdict.severity;
    finding.value = value;
    finding.limit = verdict.limit;
    finding.unit = std::move(unit);
    finding.source = limit.source;
    return finding;
}

plan::Finding hole_finding(const plan::Plan& plan, const plan::Hole& hole, std::string rule,
                           const Verdict& verdict, const Limit& limit, std::string unit, double value) {
    plan::Finding finding = finding_of(std::move(rule), verdict, limit, std::move(unit), value);
    finding.where = hole.id;
    finding.at_mm = place_of(plan, hole);
    return finding;
}

plan::Finding note_of(std::string rule, std::string where, std::string message) {
    std::string source = find_rule(rule)->source;
    plan::Finding finding =
        plan::finding_of(std::move(rule), plan::Severity::note, std::move(where), std::move(message));
    finding.source = std::move(source);
    return finding;
}

plan::Finding final_stop_of(std::string rule, std::string where, std::string message, plan::Point3 at_mm) {
    plan::Finding finding = note_of(std::move(rule), std::move(where), std::move(message));
    finding.severity = plan::Severity::stop;
    finding.final = true;
    finding.at_mm = at_mm;
    return finding;
}

}  // namespace fitup::rules
