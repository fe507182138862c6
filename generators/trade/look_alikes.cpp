#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/text.hpp"
#include "trade/names.hpp"
#include "trade/trade.hpp"

/// Which threads are taken for one another, worked out from diameters and pitches.
///
/// Within 8 % of diameter one screw starts in the other's nut or its hole passes for the other's; within 30 %
/// of pitch the eye does not tell them apart. Both limits are chosen so that every pair that the trade warns
/// of is found (5/16-18 and M8, 3/8-16 and M10, #10-32 and M5, 1/4-20 and M6, 1/2-13 and M12); common
/// practice, no source.
namespace fitup::trade {

namespace {

constexpr double diameter_limit = 0.08;
constexpr double pitch_limit = 0.30;
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

/// Turns that a screw makes in another thread's nut until its flanks jam: the pitches drift apart by their
/// difference a turn, and the flanks give way by the difference of the pitch diameters times the tangent of
/// half the flank angle.
double turns_until_jammed(const Thread& screw, const Thread& nut) {
    const double slack_mm = pitch_diameter_mm(nut) - pitch_diameter_mm(screw) + cutting_play_mm;
    const double half_angle = nut.flank_angle_deg / 2.0 * std::numbers::pi / 180.0;
    return slack_mm * std::tan(half_angle) / std::abs(screw.pitch_mm - nut.pitch_mm);
}

bool has_same_pitch(const Thread& one, const Thread& two) {
    return std::abs(one.pitch_mm - two.pitch_mm) < 1e-6;
}

/// "a 3/8-16 UNC", "an M10".
std::string with_article(const Thread& thread) {
    const bool has_vowel = thread.designation.starts_with("M") || thread.designation.starts_with("11/");
    return (has_vowel ? "an " : "a ") + thread.designation;
}

std::string screw_text(const Thread& screw, const Thread& nut) {
    const std::string subject = with_article(screw) + " screw ";
    const double slack_mm = pitch_diameter_mm(nut) - pitch_diameter_mm(screw) + cutting_play_mm;
    const std::string goal = " in " + with_article(nut) + " nut";
    if (slack_mm < 0.0 || screw.major_mm > nut.major_mm + cutting_play_mm)
        return subject + "does not start" + goal;
    if (has_same_pitch(screw, nut))
        return subject + "goes all the way" + goal + (slack_mm > 0.1 ? ", loose" : "");
    const double turns = turns_until_jammed(screw, nut);
    const std::string count = turns < 1.0 ? "less than one turn" : "about " + fixed_text(turns, 0) + " turn";
    return subject + "jams after " + count + (turns >= 1.5 ? "s" : "") + goal;
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
