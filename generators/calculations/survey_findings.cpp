#include "calculations/survey_findings.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/both_units.hpp"
#include "base/text.hpp"
#include "calculations/chance.hpp"
#include "calculations/survey_evidence.hpp"
#include "calculations/survey_words.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using plan::Finding;
using plan::Findings;
using plan::Severity;

/// A reading whose own residual shows less than this share of its error is as good as unchecked.
constexpr double unchecked_under = 0.01;
/// Contacts along X and along Y that differ by more than this many standard deviations don't fit one round
/// hole.
constexpr double contacts_within = 4.0;
constexpr std::size_t most_named = 5;

std::string listed(const std::vector<std::string>& words) {
    std::string text;
    for (std::size_t i = 0; i < std::min(words.size(), most_named); ++i)
        text += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + words[i];
    if (words.size() > most_named) text += " and " + std::to_string(words.size() - most_named) + " more";
    return text;
}

std::string what_to_do(const SurveyResult& result, const Suspect& suspect, const Reading& reading) {
    std::string text;
    if (!suspect.blunder.empty()) text += "; perhaps " + suspect.blunder;
    std::vector<std::string> others;
    for (const int other : suspect.or_else) others.push_back(result.survey.readings[std::size_t(other)].name);
    if (!others.empty()) text += "; as well it may be " + or_list(others);
    return text + "; measure it again, or put \"leave_out\": [\"" + reading.name + "\"]";
}

void add_suspects(const SurveyResult& result, Findings& findings) {
    for (const Suspect& suspect : result.fit.suspects) {
        const auto index = std::size_t(suspect.reading);
        const Reading& reading = result.survey.readings[index];
        Finding one = plan::finding_of("suspect-reading", Severity::warn, reading.name,
                                       reading.name + " reads " +
                                           value_text(result.survey, reading, std::abs(suspect.by)) +
                                           (suspect.by > 0.0 ? " more" : " less") + " than the others say" +
                                           what_to_do(result, suspect, reading) + ".");
        // From the fit without it: with it, the others have given way to it.
        one.value = std::abs(suspect.by) / reading.sigma;
        one.limit = result.fit.critical;
        one.unit = "times its standard deviation";
        one.source = "data snooping (Baarda)";
        findings.push_back(std::move(one));
    }
}

void add_unchecked(const SurveyResult& result, Findings& findings) {
    std::vector<std::string> names;
    for (std::size_t i = 0; i < result.survey.readings.size(); ++i) {
        const Reading& reading = result.survey.readings[i];
        const auto suspected = std::ranges::find(result.fit.suspects, int(i), &Suspect::reading);
        if (suspected == result.fit.suspects.end() && !reading.left_out &&
            result.fit.residuals[i].redundancy < unchecked_under)
            names.push_back(reading.name);
    }
    if (names.empty()) return;
    const bool are_all = result.fit.redundancy == 0;
    std::string message = are_all ? "no reading is checked by another: one wrong reading here can't be seen"
                                  : "nothing checks " + listed(names) + ": an error there can't be seen";
    if (!result.fit.proposals.empty()) message += "; " + result.fit.proposals.front().why;
    Finding one =
        plan::finding_of("unchecked-readings", Severity::note, are_all ? "" : names.front(), message + ".");
    one.value = double(names.size());
    one.unit = names.size() == 1 ? "reading" : "readings";
    findings.push_back(std::move(one));
}

/// What would tell the arrangement.
std::string what_helps(const Survey& survey) {
    const Network network = network_of(survey);
    if (!is_spans_alone(network) || network.points < 4) return "";
    return "; or more is wrong than the rest can show. What helps to find the arrangement: " +
           words_across(survey, network, 2);
}

void add_no_fit(const SurveyResult& result, Findings& findings) {
    Finding one = plan::finding_of(
        "readings-agree", Severity::stop, "",
        "no places were found that the readings agree with, whichever few are left out: they disagree " +
            short_text(result.fit.sigma_scale, 1) +
            " times as much as their uncertainties say. Look for ids exchanged all through, another unit or "
            "another face" +
            what_helps(result.survey) + ".");
    one.value = result.fit.sigma_scale;
    one.limit = 1.0;
    findings.push_back(std::move(one));
}

void add_kept(const SurveyResult& result, Findings& findings) {
    if (!result.fits || result.fit.suspects.empty() || !result.keeps_blunder) return;
    Finding one = plan::finding_of(
        "readings-agree", Severity::warn, "",
        kept_words(result) + " than ellipses and sigmas say: the readings disagree " +
            short_text(result.fit.sigma_scale, 1) + " times as much as their uncertainties allow.");
    one.value = result.fit.sigma_scale;
    one.limit = 1.0;
    findings.push_back(std::move(one));
}

void add_disagreement(const SurveyResult& result, Findings& findings) {
    if (!result.fits) return add_no_fit(result, findings);
    add_kept(result, findings);
    if (!result.fit.suspects.empty() || result.chance >= unlikely_chance) return;
    Finding one = plan::finding_of(
        "readings-agree", Severity::warn, "",
        "the readings disagree " + short_text(result.fit.sigma_scale, 1) +
            " times as much as their uncertainties say (by chance " + once_in(result.chance) +
            "), and no single reading explains it: the uncertainties are too small, or several are wrong.");
    one.value = result.fit.sigma_scale;
    one.limit = 1.0;
    findings.push_back(std::move(one));
}

/// The two contact pairs of a point stand equally far apart on a round hole or stud.
void add_contacts(const SurveyResult& result, Findings& findings) {
    std::map<int, std::array<const Reading*, 2>> pairs;
    for (const Reading& reading : result.survey.readings) {
        if (reading.taken == Taken::touch && !reading.left_out)
            pairs[reading.a][reading.quantity == Quantity::x ? 0 : 1] = &reading;
    }
    for (const auto& [point, pair] : pairs) {
        if (pair[0] == nullptr || pair[1] == nullptr) continue;
        const auto apart = [](const Reading& one) { return std::abs(one.written[0] - one.written[1]); };
        const double x_mm = apart(*pair[0]), y_mm = apart(*pair[1]);
        // The centre errs by half the contacts' sum, what they stand apart by twice as much.
        const double limit_mm = contacts_within * 2.0 * std::hypot(pair[0]->sigma, pair[1]->sigma);
        if (std::abs(x_mm - y_mm) <= limit_mm) continue;
        const std::string& id = result.survey.points[std::size_t(point)].id;
        Finding one = plan::finding_of(
            "contacts-agree", Severity::warn, id,
            "the contacts of " + id + " stand " + length_text(result.survey, x_mm) + " apart along X and " +
                length_text(result.survey, y_mm) +
                " along Y; on a round hole or stud they stand equally far apart, so one of the four is "
                "wrong, or the hole is.");
        one.value = std::abs(x_mm - y_mm);
        one.limit = limit_mm;
        one.unit = "mm";
        findings.push_back(std::move(one));
    }
}

void add_mirrored(const SurveyResult& result, Findings& findings) {
    const MirroredUse& use = result.kind.mirrored;
    const std::size_t count = result.survey.points.size();
    // Two holes always find two places; nearly mirrored is what one or two holes alone tell apart.
    if (count < 3 || use.telling.size() > 2 || use.fits < 3) return;
    const bool is_nearly = !use.telling.empty();
    const std::string where =
        is_nearly ? result.survey.points[std::size_t(use.telling.front())].id : std::string();
    Finding one =
        plan::finding_of("mirrored-pattern", is_nearly ? Severity::warn : Severity::note, where,
                         result.words.mirrored + (is_nearly ? "; try " + where + " before the others."
                                                            : "; mark the side and the top."));
    one.value = double(use.fits);
    one.unit = "holes";
    findings.push_back(std::move(one));
}

void add_expected(const SurveyResult& result, Findings& findings) {
    const auto& expected = result.survey.expect_circle;
    if (!expected) return;
    const double off_sigmas = 3.0;
    if (expected->diameter_mm && result.kind.circle) {
        const double off_mm = result.kind.circle->diameter_mm - *expected->diameter_mm;
        const double limit_mm = off_sigmas * result.kind.circle->diameter_sigma_mm;
        if (std::abs(off_mm) > limit_mm) {
            Finding one = plan::finding_of("expected-circle", Severity::warn, "",
                                           "the circle is " + length_text(result.survey, std::abs(off_mm)) +
                                               (off_mm > 0.0 ? " larger" : " smaller") +
                                               " than expected, more than its uncertainty.");
            one.value = std::abs(off_mm);
            one.limit = limit_mm;
            one.unit = "mm";
            findings.push_back(std::move(one));
        }
    }
    if (result.kind.spacing && result.kind.spacing->chance >= unlikely_chance) return;
    findings.push_back(plan::finding_of("expected-circle", Severity::warn, "", result.words.spacing + "."));
}

void add_defaults(const SurveyResult& result, Findings& findings) {
    const auto count = std::count_if(result.survey.readings.begin(), result.survey.readings.end(),
                                     [](const Reading& one) { return one.sigma_is_default; });
    if (count == 0) return;
    Finding one = plan::finding_of(
        "default-uncertainty", Severity::note, "",
        "the uncertainty of " + std::to_string(count) + " of " +
            std::to_string(result.survey.readings.size()) +
            " readings was taken by kind and length (half of what the trade gives as plus or minus); state "
            "`uncertainty` where you know better.");
    one.value = double(count);
    one.unit = count == 1 ? "reading" : "readings";
    one.source =
        "trade and forum figures, partly from memory; `default_uncertainties` of the result names each";
    findings.push_back(std::move(one));
}

/// Bolted-up templates show tenths; more is a wrong hole, sign or unit (common practice, no source).
constexpr double far_for_a_trial_mm = 3.0;

/// The id of the point that a moved one comes within that of; "" where none.
std::string met_by(const SurveyResult& result, std::size_t moved) {
    for (std::size_t i = 0; i < result.fit.points_mm.size(); ++i) {
        const double apart_mm = plan::distance_mm(result.fit.points_mm[i], result.fit.points_mm[moved]);
        if (i != moved && apart_mm < far_for_a_trial_mm) return result.survey.points[i].id;
    }
    return "";
}

void add_far_trials(const SurveyResult& result, Findings& findings) {
    for (const TrialMove& move : result.survey.trial) {
        const auto point = std::size_t(move.point);
        const double far_mm = plan::length(move.moved_mm);
        const std::string met = met_by(result, point);
        if (far_mm <= far_for_a_trial_mm && met.empty()) continue;
        std::string words = "the trial moves it by " + both_units(far_mm);
        words += met.empty() ? ", more than a template shows" : ", onto " + met;
        Finding one = plan::finding_of("trial", Severity::warn, result.survey.points[point].id,
                                       words + ": is it the right hole, sign and unit?");
        findings.push_back(with_value(std::move(one), far_mm, far_for_a_trial_mm, "mm"));
    }
}

void add_threads_and_trials(const SurveyResult& result, Findings& findings) {
    std::vector<std::string> tapped, moved;
    for (const SurveyPoint& point : result.survey.points) {
        if (point.kind == "tapped") tapped.push_back(point.id);
    }
    for (const TrialMove& move : result.survey.trial)
        moved.push_back(result.survey.points[std::size_t(move.point)].id);
    if (!tapped.empty())
        findings.push_back(plan::finding_of(
            "tapped-hole", Severity::note, tapped.front(),
            "the place of a thread is its pitch cylinder's: measure " + listed(tapped) +
                " over a screw that fits without play, not in the minor diameter; and look which thread it "
                "is (`fitup lookup threads`)."));
    if (!moved.empty())
        findings.push_back(plan::finding_of("trial", Severity::note, moved.front(),
                                            "places as the trial found them: " + listed(moved) + "."));
    add_far_trials(result, findings);
}

}  // namespace

Findings survey_findings(const SurveyResult& result) {
    Findings findings;
    if (result.bolting)
        plan::append(findings,
                     bolts_up_findings(result.bolting->asked, result.bolting->worked, result.bolting->other));
    add_suspects(result, findings);
    add_disagreement(result, findings);
    add_contacts(result, findings);
    add_expected(result, findings);
    add_mirrored(result, findings);
    add_unchecked(result, findings);
    add_threads_and_trials(result, findings);
    add_defaults(result, findings);
    plan::sort_by_severity(findings);
    return findings;
}

}  // namespace fitup::calculations
