#include "calculations/concentricity_findings.hpp"

#include <cmath>

#include "base/both_units.hpp"
#include "base/text.hpp"

namespace fitup::calculations {

namespace {

using plan::Finding;
using plan::Severity;

constexpr double equal_mm = 1e-9;
const char* const how_to_ream =
    "float the plate, run the shafts true with an indicator, clamp, and ream the dowels with the parts "
    "together";

std::string percent(double share) { return short_text(100.0 * share, 1) + " %"; }

std::string budget_text(const ConcentricityResult& result) {
    return "tolerances alone do not get there: at worst they add up to " +
           offset_and_reading(result.worst_offset_mm) + ", by root-sum-square to " +
           offset_and_reading(result.rss_offset_mm) + ", against " +
           offset_and_reading(result.limit_offset_mm);
}

std::string alone_text(const ConcentricityResult& result) {
    std::string text;
    for (std::size_t i = 0; i < result.contributions.size(); ++i) {
        const auto& alone = result.contributions[i].alone_to;
        if (!alone) continue;
        const Contribution& one = result.asked.contributions[i];
        text += (text.empty() ? "" : ", or ") + one.name + " alone to a " + to_text(one.measure) + " of " +
                both_units(*alone);
    }
    return text;
}

std::string cure_text(const ConcentricityResult& result) {
    if (!result.all_to)
        return "what can't be changed comes to " + offset_and_reading(result.fixed_offset_mm) +
               " already, so no fit serves: " + how_to_ream;
    const std::string alone = alone_text(result);
    return "bring all that can be changed to " + percent(*result.all_to) + " of what it is" +
           (alone.empty() ? "" : ", or " + alone) + "; else " + how_to_ream;
}

void add_budget(const ConcentricityResult& result, plan::Findings& findings) {
    if (result.worst_offset_mm <= result.limit_offset_mm + equal_mm) return;
    const bool reamed = result.asked.reamed_at_assembly;
    Finding finding = plan::finding_of(
        "concentricity", reamed ? Severity::warn : Severity::stop, "",
        budget_text(result) +
            (reamed ? std::string("; the dowels are reamed at assembly, so the dial decides: ") + how_to_ream
                    : "; " + cure_text(result)));
    if (!result.asked.limit_stated) finding.source = "limit: common practice, no source";
    findings.push_back(
        with_value(std::move(finding), 2.0 * result.worst_offset_mm, 2.0 * result.limit_offset_mm, "mm"));
}

void add_checks(const DialResult& dial, const std::string& where, plan::Findings& findings) {
    if (!dial.sum_agrees)
        findings.push_back(
            with_value(plan::finding_of(
                           "dial-sum", Severity::warn, where,
                           "12 + 6 and 3 + 9 differ by " + both_units(std::abs(dial.sum_error_mm)) +
                               "; a pure offset makes them equal. A loose indicator or bracket, a shaft that "
                               "moved, a surface out of round, or a wrong sign: find it and sweep again (a "
                               "sagging arm also shifts the readings: give its `sag`)"),
                       std::abs(dial.sum_error_mm), sum_agrees_within_mm, "mm"));
    if (!dial.returns)
        findings.push_back(with_value(
            plan::finding_of("dial-return", Severity::warn, where,
                             "back at 12 the dial is off by " + both_units(std::abs(*dial.return_error_mm)) +
                                 " and must return to the first reading: something slipped; sweep again"),
            std::abs(*dial.return_error_mm), returns_within_mm, "mm"));
}

void add_bore(const ConcentricityResult& result, plan::Findings& findings) {
    if (!result.bore) return;
    add_checks(*result.bore, "readings", findings);
    if (result.bore->total_offset_mm <= result.limit_offset_mm + equal_mm) return;
    findings.push_back(
        with_value(plan::finding_of("dial-in", Severity::warn, "readings",
                                    "not true yet: " + offset_and_reading(result.bore->total_offset_mm) +
                                        " against " + offset_and_reading(result.limit_offset_mm) +
                                        "; move the swept part " + move_text(result.bore->move_mm)),
                   result.bore->reading_mm, 2.0 * result.limit_offset_mm, "mm"));
}

void add_face(const ConcentricityResult& result, plan::Findings& findings) {
    if (!result.face) return;
    add_checks(*result.face, "face_readings", findings);
    if (result.face->reading_mm <= 2.0 * result.limit_offset_mm + equal_mm) return;
    findings.push_back(with_value(
        plan::finding_of("dial-in", Severity::warn, "face_readings",
                         "the face runs out by a reading of " + both_units(result.face->reading_mm) +
                             ": the axes meet at an angle; clean the faces and look for burrs before "
                             "anything is shimmed"),
        result.face->reading_mm, 2.0 * result.limit_offset_mm, "mm"));
}

}  // namespace

std::string offset_and_reading(double offset_mm) {
    return both_units(offset_mm) + " offset, " + both_units(2.0 * offset_mm) + " reading";
}

std::string move_text(const std::array<double, 2>& move_mm) {
    constexpr double little_mm = 0.0005;
    std::string text;
    if (std::abs(move_mm[0]) >= little_mm)
        text = both_units(std::abs(move_mm[0])) +
               (move_mm[0] > 0.0 ? " right (towards 3)" : " left (towards 9)");
    if (std::abs(move_mm[1]) >= little_mm)
        text += (text.empty() ? "" : " and ") + both_units(std::abs(move_mm[1])) +
                (move_mm[1] > 0.0 ? " up (towards 12)" : " down (towards 6)");
    return text.empty() ? "nowhere" : text;
}

plan::Findings concentricity_findings(const ConcentricityResult& result) {
    plan::Findings findings;
    add_budget(result, findings);
    add_bore(result, findings);
    add_face(result, findings);
    plan::sort_by_severity(findings);
    return findings;
}

}  // namespace fitup::calculations
