#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "base/text.hpp"
#include "trade/names.hpp"
#include "trade/trade.hpp"

/// Which threads are taken for one another, worked out from diameters and pitches.
///
/// Within 8 % of diameter one screw starts in the other's nut or its hole passes for the other's; within 30 %
/// of pitch the eye does not tell them apart. Both limits are chosen so that every pair that the trade warns
/// of is found (5/16-18 and M8, 3/8-16 and M10, #10 and M5, 1/4-20 and M6, 1/2-13 and M12); common
/// practice, no source.
namespace fitup::trade {

namespace {

constexpr double diameter_limit = 0.08;
constexpr double pitch_limit = 0.33;
/// Screws and nuts are cut this much apart (ISO 965-1 6H/6g at about 10 mm, from memory, unverified).
constexpr double cutting_play_mm = 0.05;

double relative_difference(double a, double b) { return std::abs(a - b) / std::min(a, b); }

bool is_unified(const Thread& thread) { return thread.series == "UNC" || thread.series == "UNF"; }
bool is_metric(const Thread& thread) { return thread.series.starts_with("ISO"); }
bool is_whitworth(const Thread& thread) { return thread.series == "BSW" || thread.series == "BSF"; }

/// Whitworth sizes are those of unified threads: beside a metric thread the unified one stands for both, and
/// beside a unified one only the same size deserves a word.
bool would_meet(const Thread& one, const Thread& two) {
    if (is_whitworth(one) && is_metric(two)) return false;
    if (is_metric(one) && is_whitworth(two)) return false;
    if (is_unified(one) && is_whitworth(two)) return one.major_mm == two.major_mm;
    return true;
}

bool is_look_alike(const Thread& one, const Thread& two) {
    return would_meet(one, two) && relative_difference(one.major_mm, two.major_mm) <= diameter_limit &&
           relative_difference(one.pitch_mm, two.pitch_mm) <= pitch_limit;
}

double unlikeness(const Thread& one, const Thread& two) {
    return relative_difference(one.major_mm, two.major_mm) + relative_difference(one.pitch_mm, two.pitch_mm);
}

std::string pitch_text(const Thread& thread) {
    return short_text(thread.pitch_mm, 4) + " mm (" + short_text(mm_per_inch / thread.pitch_mm, 1) +
           " per inch)";
}

std::string major_text(const Thread& thread) {
    return short_text(thread.major_mm, 3) + " mm (" + fixed_text(thread.major_mm / mm_per_inch, 4) + " in)";
}

/// Flank play of a screw in another thread's nut, across; negative: the screw is too big.
double slack_mm(const Thread& screw, const Thread& nut) {
    return pitch_diameter_mm(nut) - pitch_diameter_mm(screw) + cutting_play_mm;
}

/// Length that a screw goes into another thread's nut until its flanks jam: the pitches drift apart by their
/// difference a turn, and the flanks give way by the slack times the tangent of half the flank angle.
double length_until_jammed_mm(const Thread& screw, const Thread& nut) {
    const double drift_mm = std::abs(screw.pitch_mm - nut.pitch_mm);
    if (drift_mm < 1e-6) return std::numeric_limits<double>::infinity();
    const double half_angle = nut.flank_angle_deg / 2.0 * std::numbers::pi / 180.0;
    return screw.pitch_mm * slack_mm(screw, nut) * std::tan(half_angle) / drift_mm;
}

/// "a 3/8-16 UNC", "an M10".
std::string with_article(const Thread& thread) {
    const bool has_vowel = thread.designation.starts_with("M") || thread.designation.starts_with("11/");
    return (has_vowel ? "an " : "a ") + thread.designation;
}

/// What one sees on trying: how far the screw goes into the other's nut (taken 0.9 d high, as ISO 4032 and
/// ASME B18.2.2 do).
std::string how_far(const Thread& screw, const Thread& nut) {
    const double slack = slack_mm(screw, nut);
    if (slack < -3.0 * cutting_play_mm || screw.major_mm > nut.major_mm + 3.0 * cutting_play_mm)
        return "does not start";
    const double length_mm = length_until_jammed_mm(screw, nut);
    if (slack > 0.0 && length_mm >= 0.9 * nut.major_mm) {
        return slack > 3.0 * cutting_play_mm ? "runs right through, loose," : "runs right through";
    }
    const double turns = length_mm / screw.pitch_mm;
    if (turns < 1.5) return "jams at the first turn";
    return "jams after about " + fixed_text(turns, 0) + " turns";
}

std::string screw_text(const Thread& screw, const Thread& nut) {
    return with_article(screw) + " screw " + how_far(screw, nut) + " in " + with_article(nut) + " nut";
}

std::string flank_text(const Thread& one, const Thread& two) {
    if (one.flank_angle_deg == two.flank_angle_deg) return "";
    return "; flanks " + short_text(one.flank_angle_deg) + " against " + short_text(two.flank_angle_deg) +
           " deg: lay a thread gauge on and look for light";
}

std::string test_text(const Thread& one, const Thread& two) {
    std::string text = "pitch gauge: " + one.designation + " reads " + pitch_text(one) + ", " +
                       two.designation + " reads " + pitch_text(two) + "; major diameter " + major_text(one) +
                       " against " + major_text(two) + flank_text(one, two);
    return text + "; " + screw_text(one, two) + ", " + screw_text(two, one);
}

}  // namespace

std::vector<LookAlike> look_alikes(const Thread& thread) {
    std::vector<LookAlike> found;
    for (const Thread& candidate : threads()) {
        if (candidate.designation == thread.designation || !is_look_alike(thread, candidate)) continue;
        found.push_back({&candidate, test_text(thread, candidate)});
    }
    std::stable_sort(found.begin(), found.end(), [&](const LookAlike& a, const LookAlike& b) {
        return unlikeness(thread, *a.thread) < unlikeness(thread, *b.thread);
    });
    return found;
}

}  // namespace fitup::trade
