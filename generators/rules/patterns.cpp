// Rules about patterns as a whole: where they were seen from, mirrored use, position tolerance, look-alike
// threads.
#include <algorithm>
#include <cmath>
#include <set>

#include "base/text.hpp"
#include "rules/checks.hpp"
#include "rules/rules.hpp"
#include "rules/wording.hpp"
#include "trade/trade.hpp"

namespace fitup::rules {

namespace {

using plan::Finding;
using plan::Findings;
using plan::Hole;
using plan::Pattern;
using plan::Point;

/// Comparing a pattern with its mirror image costs the cube of its holes; larger patterns are left out.
constexpr std::size_t most_compared_holes = 120;
/// Holes of the mirror image that are tried as the one that falls on another: enough to find every match that
/// lacks at most two.
constexpr std::size_t tried_holes = 3;
/// A bolt goes in where its hole is off by less than this, when the clearance is not known.
constexpr double usual_slack_mm = 0.5;

std::string where_text(const Point& at) {
    constexpr double on_axis_mm = 1e-6;
    if (std::abs(at.x_mm) < on_axis_mm && std::abs(at.y_mm) < on_axis_mm) return "at the centre";
    if (std::abs(at.x_mm) < on_axis_mm)
        return at.y_mm > 0 ? "straight above the centre" : "straight below the centre";
    return at.x_mm > 0 ? "right of the centre" : "left of the centre";
}

Finding side_note(const Subject& subject, const Pattern& pattern) {
    const Hole& first = subject.plan().holes[pattern.holes.front()];
    const bool mirrored = pattern.seen_from == plan::Side::A;
    std::string said;
    if (pattern.from_standard)
        said = "from the published standard";
    else if (pattern.measured_on)
        said = std::string("measured on the casting at ") + (mirrored ? "B" : "A");
    else
        said = std::string("seen from face ") + plan::to_text(pattern.seen_from);
    Finding finding =
        note_of("pattern-side", pattern.name,
                pattern.name + ": " + said + (mirrored ? ", so X is mirrored; " : ", X as given; ") +
                    "hole 1 (" + first.id + ") lies " + where_text(first.at_mm) + " seen on face B, at X " +
                    short_text(first.at_mm.x_mm, 3) + ", Y " + short_text(first.at_mm.y_mm, 3) + " mm.");
    finding.at_mm = place_of(subject.plan(), first);
    return finding;
}

double slack_mm(const Hole& hole) {
    return hole.fastener ? std::max(0.05, (hole.diameter_mm - hole.fastener->diameter_mm) / 2.0)
                         : usual_slack_mm;
}

Point turned(Point point, double angle_rad) {
    return {point.x_mm * std::cos(angle_rad) - point.y_mm * std::sin(angle_rad),
            point.x_mm * std::sin(angle_rad) + point.y_mm * std::cos(angle_rad)};
}

/// Holes (places in `points`) that no hole of the turned mirror image falls on.
std::vector<std::size_t> unmatched(const std::vector<Point>& points, double angle_rad, double slack) {
    std::vector<std::size_t> lonely;
    std::vector<bool> used(points.size(), false);
    for (std::size_t i = 0; i < points.size(); ++i) {
        bool found = false;
        for (std::size_t j = 0; j < points.size() && !found; ++j) {
            if (used[j]) continue;
            const Point image = turned({-points[j].x_mm, points[j].y_mm}, angle_rad);
            found = plan::distance_mm(image, points[i]) <= slack;
            if (found) used[j] = true;
        }
        if (!found) lonely.push_back(i);
    }
    return lonely;
}

std::vector<std::size_t> least_unmatched(const std::vector<Point>& points, double slack) {
    std::vector<std::size_t> best(points.size());
    for (std::size_t i = 0; i < best.size(); ++i) best[i] = i;
    for (std::size_t i = 0; i < std::min(tried_holes, points.size()); ++i) {
        for (const Point& goal : points) {
            const double radius = std::hypot(points[i].x_mm, points[i].y_mm);
            if (std::abs(radius - std::hypot(goal.x_mm, goal.y_mm)) > slack) continue;
            const double angle =
                std::atan2(goal.y_mm, goal.x_mm) - std::atan2(points[i].y_mm, -points[i].x_mm);
            auto lonely = unmatched(points, angle, slack);
            if (lonely.size() < best.size()) best = std::move(lonely);
        }
    }
    return best;
}

std::optional<Finding> judge_mirrored(const Subject& subject, const Pattern& pattern) {
    const std::size_t count = pattern.holes.size();
    if (count < 3 || count > most_compared_holes) return std::nullopt;
    std::vector<Point> points;
    for (const std::size_t h : pattern.holes) points.push_back(subject.plan().holes[h].at_mm);
    const auto lonely = least_unmatched(points, slack_mm(subject.plan().holes[pattern.holes.front()]));
    const std::string bolts =
        std::to_string(count - lonely.size()) + " of " + std::to_string(count) + " holes";
    if (lonely.empty()) {
        return note_of("mirrored-pattern", pattern.name,
                       pattern.name + ": all " + std::to_string(count) +
                           " holes would also bolt up mirrored, so nothing in the pattern shows a mirrored "
                           "plate; mark the side and the top.");
    }
    const Hole& telling = subject.plan().holes[pattern.holes[lonely.front()]];
    Finding finding =
        note_of("mirrored-pattern", telling.id,
                pattern.name + ": " + bolts + " would also bolt up if it were drilled mirrored; " +
                    telling.id + " tells the sides apart. Try that one first.");
    if (lonely.size() <= 2) finding.severity = plan::Severity::warn;
    finding.at_mm = place_of(subject.plan(), telling);
    return finding;
}

/// Hole and fastener of a pattern as the position formulas need them: a tapped hole's counterpart is the
/// usual clearance hole.
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

std::optional<Finding> judge_tolerance(const Subject& subject, const Pattern& pattern) {
    const Hole& first = subject.plan().holes[pattern.holes.front()];
    const auto pairing = pairing_of(first);
    if (!pairing) return std::nullopt;
    const double fixed_mm = (pairing->hole_mm - pairing->fastener_mm) / 2.0;
    const Limit limit = subject.limits().of("position-tolerance");
    const auto verdict =
        under(limit, fixed_mm).value_or(Verdict{plan::Severity::note, limit.warn.value_or(0.0)});
    Finding finding = finding_of("position-tolerance", verdict, limit, "mm", fixed_mm);
    finding.where = pattern.name;
    finding.at_mm = place_of(subject.plan(), first);
    finding.message =
        pattern.name + ": on the drawing give each hole a position tolerance of diameter " +
        length_text(fixed_mm) +
        (pairing->tapped ? " (tapped, fixed fastener, projected zone; the other part's hole is taken as " +
                               length_text(pairing->hole_mm) + ")"
                         : " where the other part is threaded or studded, " + length_text(2.0 * fixed_mm) +
                               " where both have clearance") +
        "; the title block's general tolerance does not cover a bolt pattern.";
    return finding;
}

std::string thread_of(const Hole& hole) {
    return hole.thread ? hole.thread->designation : hole.fastener ? hole.fastener->designation : "";
}

Findings look_alikes(const Subject& subject) {
    Findings findings;
    std::set<std::string> told;
    std::set<bool> systems;
    for (const Hole& hole : subject.plan().holes) {
        if (const auto* thread = trade::find_thread(thread_of(hole))) systems.insert(thread->is_inch());
    }
    for (const Pattern& pattern : subject.plan().patterns) {
        const Hole& first = subject.plan().holes[pattern.holes.front()];
        const auto* thread = trade::find_thread(thread_of(first));
        if (thread == nullptr || !told.insert(thread->designation).second) continue;
        for (const trade::LookAlike& other : trade::look_alikes(*thread)) {
            Finding finding = note_of("look-alike-thread", pattern.name,
                                      thread->designation + " is easily taken for " +
                                          other.thread->designation + ". " + other.test);
            if (systems.size() > 1 && thread->is_inch() != other.thread->is_inch())
                finding.severity = plan::Severity::warn;
            findings.push_back(std::move(finding));
        }
    }
    return findings;
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
    for (Finding& finding : look_alikes(subject)) findings.push_back(std::move(finding));
    return findings;
}

Findings check_overrides(const Subject& subject) {
    Findings findings;
    for (const plan::RuleOverride& entry : subject.plan().rule_overrides) {
        const Rule* rule = find_rule(entry.rule);
        if (rule == nullptr) continue;
        const auto step = [&rule](const char* word, const std::optional<double>& own,
                                  const std::optional<double>& usual) {
            if (!own) return std::string();
            return std::string(" ") + word + " at " + short_text(*own) + " " + rule->unit +
                   (usual ? " (usually " + short_text(*usual) + ")" : "");
        };
        const std::string change =
            step("warns", entry.warn, rule->warn) + step("stops", entry.stop, rule->stop);
        findings.push_back(note_of("override", entry.rule,
                                   rule->can_be_overridden
                                       ? "by the file's own wish " + entry.rule + change + "."
                                       : entry.rule + " can't be overridden; the file's limit is not used."));
    }
    return findings;
}

}  // namespace fitup::rules
