// Rules about patterns as a whole: where they were seen from, mirrored use, position tolerance.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/text.hpp"
#include "rules/checks.hpp"
#include "rules/doubt.hpp"
#include "rules/mirror.hpp"
#include "rules/wording.hpp"
#include "trade/trade.hpp"

namespace fitup::rules {

namespace {

using plan::Finding;
using plan::Findings;
using plan::Hole;
using plan::Pattern;
using plan::Point;

/// A bolt goes in where its hole is off by less than this, when the clearance is not known.
constexpr double usual_slack_mm = 0.5;
/// Bolts and dowels fit each other at least this badly.
constexpr double least_slack_mm = 0.05;
/// Any two holes of one radius fall on one another mirrored: fewer than this say nothing, unless they are
/// all.
constexpr std::size_t telling_matches = 3;
/// With no more than this many left over, a trial with a few bolts does not show the mistake.
constexpr std::size_t few_lonely = 2;
constexpr std::size_t most_named = 3;

std::string where_text(const Point& at) {
    constexpr double on_axis_mm = 1e-6;
    if (std::abs(at.x_mm) < on_axis_mm && std::abs(at.y_mm) < on_axis_mm) return "at the centre";
    if (std::abs(at.x_mm) < on_axis_mm)
        return at.y_mm > 0 ? "straight above the centre" : "straight below the centre";
    return at.x_mm > 0 ? "right of the centre" : "left of the centre";
}

/// "hole 2" of "gearbox-2".
std::string ordinal_text(const Pattern& pattern, const Hole& hole) {
    const std::string start = pattern.name + "-";
    return hole.id.starts_with(start) ? "hole " + hole.id.substr(start.size()) : hole.id;
}

Finding side_note(const Subject& subject, const Pattern& pattern) {
    const Hole& first = subject.plan().holes[pattern.holes.front()];
    const bool mirrored = pattern.seen_from == plan::Side::A;
    std::string said;
    if (!pattern.survey.empty())
        said = "from the survey " + pattern.survey +
               (pattern.datum.empty() ? "" : " (datum: " + pattern.datum + ")") +
               ", measured on the casting at " + (mirrored ? "B" : "A");
    else if (pattern.from_standard)
        said = "from the published standard";
    else if (pattern.measured_on)
        said = std::string("measured on the casting at ") + (mirrored ? "B" : "A");
    else
        said = std::string("seen from face ") + plan::to_text(pattern.seen_from);
    Finding finding = note_of(
        "pattern-side", pattern.name,
        pattern.name + ": " + said + (mirrored ? ", so X is mirrored; " : ", X as given; ") +
            ordinal_text(pattern, first) + " lies " + where_text(first.at_mm) + " seen on face B, at X " +
            short_text(first.at_mm.x_mm, 3) + ", Y " + short_text(first.at_mm.y_mm, 3) +
            " mm. Compare with the casting; where it is the other way round, change seen_from or "
            "measured_on.");
    finding.at_mm = place_of(subject.plan(), first);
    return finding;
}

/// Hole and fastener as the position formulas need them: a tapped hole's counterpart is the usual clearance
/// hole.
struct Pairing {
    double hole_mm = 0.0;
    double fastener_mm = 0.0;
    bool tapped = false;
};

std::optional<Pairing> pairing_of(const Hole& hole) {
    if (hole.fastener) return Pairing{hole.diameter_mm, hole.fastener->diameter_mm, false};
    if (!hole.thread) return std::nullopt;
    const auto* clearance = trade::find_clearance_hole(hole.thread->designation, "normal");
    if (clearance == nullptr) return std::nullopt;
    return Pairing{clearance->diameter_mm, hole.thread->major_mm, true};
}

/// By how much a hole may be off for its bolt to go in.
double slack_mm(const Hole& hole) {
    if (hole.kind == plan::HoleKind::dowel) return least_slack_mm;
    const auto pairing = pairing_of(hole);
    return pairing ? std::max(least_slack_mm, (pairing->hole_mm - pairing->fastener_mm) / 2.0)
                   : usual_slack_mm;
}

MirrorMatch match_of(const plan::Plan& plan, const Pattern& pattern) {
    std::vector<SlackHole> holes;
    for (const std::size_t h : pattern.holes) holes.push_back({plan.holes[h].at_mm, slack_mm(plan.holes[h])});
    return best_mirror_match(holes);
}

Finding own_image_note(const Pattern& pattern) {
    const std::string count = std::to_string(pattern.holes.size());
    Finding finding = note_of("mirrored-pattern", pattern.name,
                              pattern.name + ": all " + count +
                                  " holes would also bolt up mirrored, so nothing in the pattern shows a "
                                  "mirrored plate; mark the side and the top.");
    finding.value = static_cast<double>(pattern.holes.size());
    finding.unit = "holes";
    return finding;
}

Finding nearly_mirrored(const Subject& subject, const Pattern& pattern, const MirrorMatch& match) {
    const std::size_t count = pattern.holes.size();
    std::vector<std::string> telling;
    for (const std::size_t i : match.lonely) telling.push_back(subject.plan().holes[pattern.holes[i]].id);
    const bool is_one = telling.size() == 1;
    const Hole& first = subject.plan().holes[pattern.holes[match.lonely.front()]];
    const double turn_deg = match.turn_rad * 180.0 / std::numbers::pi;
    Finding finding = note_of(
        "mirrored-pattern", first.id,
        pattern.name + ": " + std::to_string(count - telling.size()) + " of " + std::to_string(count) +
            " holes would also bolt up if it were drilled mirrored (and turned by " +
            short_text(turn_deg, 1) + " degrees); " + and_list(telling, most_named) +
            (is_one ? " tells" : " tell") + " the sides apart: try " + first.id + " before the others.");
    finding.value = static_cast<double>(count - telling.size());
    finding.unit = "holes";
    if (telling.size() <= few_lonely) {
        finding.severity = plan::Severity::warn;
        finding.limit = static_cast<double>(count - few_lonely) - 1.0;
    }
    finding.at_mm = place_of(subject.plan(), first);
    return finding;
}

std::optional<Finding> judge_mirrored(const Subject& subject, const Pattern& pattern) {
    if (pattern.holes.size() < 2) return std::nullopt;
    const MirrorMatch match = match_of(subject.plan(), pattern);
    if (match.lonely.empty()) return own_image_note(pattern);
    if (pattern.holes.size() - match.lonely.size() < telling_matches) return std::nullopt;
    return nearly_mirrored(subject, pattern, match);
}

/// The least well known of a pattern's holes; null where none was measured.
const Hole* least_known(const plan::Plan& plan, const Pattern& pattern) {
    const Hole* worst = nullptr;
    for (const std::size_t h : pattern.holes) {
        const Hole& hole = plan.holes[h];
        if (doubt_mm(hole) > (worst != nullptr ? doubt_mm(*worst) : 0.0)) worst = &hole;
    }
    return worst;
}

const char* const title_block_words = "; the title block's general tolerance does not cover a bolt pattern.";

std::string taken_as_text(const Pairing& pairing) {
    return " (tapped, fixed fastener, projected zone; the other part's hole is taken as " +
           length_text(pairing.hole_mm) + ")";
}

std::string shared_text(const Pairing& pairing, double fixed_mm) {
    return ": where both parts are as drawn it bolts up with " + length_text(fixed_mm) +
           " to spare all round each bolt; on the drawing give each hole a position tolerance of diameter " +
           length_text(fixed_mm) +
           (pairing.tapped ? taken_as_text(pairing)
                           : " where the other part is threaded or studded, " + length_text(2.0 * fixed_mm) +
                                 " where both have clearance") +
           title_block_words;
}

/// What the survey leaves of the clearance.
std::string measured_text(const Pairing& pairing, const Hole& worst, double left_mm) {
    const double doubt = doubt_mm(worst);
    std::string text = ": the bolts have " + length_text(pairing.hole_mm - pairing.fastener_mm) +
                       " in their clearance holes, and the survey leaves " + worst.id + " uncertain by " +
                       length_text(doubt) + " (" + doubt_words + ", where it is least well known)";
    if (left_mm < 0.0)
        return text + ", which the holes do not cover: measure again, or open them to " +
               length_text(pairing.fastener_mm + 2.0 * doubt) + " and more.";
    return text + "; made as drawn it bolts up with at least " + length_text(left_mm / 2.0) +
           " to spare all round each bolt; on the drawing give each hole a position tolerance of diameter " +
           length_text(left_mm) + (pairing.tapped ? taken_as_text(pairing) : "") + title_block_words;
}

/// A measured casting's own holes are where they are: what the survey does not know of them takes the place
/// of their share of the clearance.
Finding tolerance_finding(const Subject& subject, const Pattern& pattern, const Pairing& pairing) {
    const Hole* worst = least_known(subject.plan(), pattern);
    const double clearance_mm = pairing.hole_mm - pairing.fastener_mm;
    const double zone_mm = worst != nullptr ? clearance_mm - 2.0 * doubt_mm(*worst) : clearance_mm / 2.0;
    Limit usual = Limits().of("position-tolerance");
    if (worst != nullptr) usual.stop = 0.0;
    const Limit limit = subject.limits().of("position-tolerance", usual);
    const auto verdict =
        under(limit, zone_mm).value_or(Verdict{plan::Severity::note, limit.warn.value_or(0.0)});
    Finding finding = finding_of("position-tolerance", verdict, limit, "mm", zone_mm);
    finding.message = pattern.name + (worst != nullptr ? measured_text(pairing, *worst, zone_mm)
                                                       : shared_text(pairing, zone_mm));
    return finding;
}

/// A dowel leaves no room for what the survey does not know.
std::optional<Finding> measured_dowels(const Subject& subject, const Pattern& pattern) {
    const Hole* worst = least_known(subject.plan(), pattern);
    if (worst == nullptr || worst->kind != plan::HoleKind::dowel || worst->finish_diameter_mm)
        return std::nullopt;
    Finding finding = note_of("position-tolerance", pattern.name,
                              pattern.name + ": the survey leaves " + worst->id + " uncertain by " +
                                  length_text(doubt_mm(*worst)) + " (" + doubt_words +
                                  "), more than a dowel's fit forgives: ream the dowels with the parts "
                                  "together (\"finish\": \"at assembly\").");
    finding.severity = plan::Severity::warn;
    return finding;
}

std::optional<Finding> judge_tolerance(const Subject& subject, const Pattern& pattern) {
    const Hole& hole = subject.plan().holes[pattern.holes.front()];
    const auto pairing = pairing_of(hole);
    auto finding =
        pairing ? tolerance_finding(subject, pattern, *pairing) : measured_dowels(subject, pattern);
    if (!finding) return std::nullopt;
    finding->where = pattern.name;
    finding->at_mm = place_of(subject.plan(), hole);
    return finding;
}

}  // namespace

Findings check_patterns(const Subject& subject) {
    Findings findings;
    for (const Pattern& pattern : subject.plan().patterns) {
        if (pattern.holes.empty()) continue;
        findings.push_back(side_note(subject, pattern));
        if (auto finding = judge_mirrored(subject, pattern)) findings.push_back(std::move(*finding));
        if (auto finding = judge_tolerance(subject, pattern)) findings.push_back(std::move(*finding));
    }
    return findings;
}

}  // namespace fitup::rules
