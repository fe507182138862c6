#pragma once

#include <algorithm>

#include "calculations/nets.hpp"
#include "calculations/survey_result.hpp"

/// What is said of a net, held against where its points are.
namespace fitup::calculations::testing {

/// A usual slip in one reading of a survey; nothing beside it is changed.
inline int blundered(Survey& survey, const Net& net, Random& random) {
    const auto which = std::size_t(random.between(0.0, double(survey.readings.size()) - 1e-9));
    Reading& reading = survey.readings[which];
    const int other = (reading.b + 1) % net.count() == reading.a ? (reading.b + 2) % net.count()
                                                                 : (reading.b + 1) % net.count();
    switch (int(random.between(0.0, 4.999))) {
        case 0:
            reading.value = std::round(reading.value / 25.4 * 1e3) / 1e3;
            break;  // read in inches
        case 1:
            reading.value += 10.0;
            break;  // a mark of the scale
        case 2:
            reading.value += 1.0;
            break;
        case 3:
            reading.value -= 11.0;
            break;  // a pin taken off twice
        default:
            reading.value = span(net.at, reading.a, other);  // another hole
    }
    reading.written = {reading.value};
    return int(which);
}

enum class Verdict {
    right,      ///< places within what they are known to; the one wrong reading named, and no other
    unseen,     ///< the same, with a wrong reading that nothing checks
    alarmed,    ///< right, but a good reading that chance put just beyond the limit is named
    ambiguous,  ///< told that two arrangements fit
    stopped,    ///< told that no places were found
    wrong       ///< places that aren't those, or good readings blamed
};

namespace detail {

/// Of some thousand distances one in a million is off by 5.
inline constexpr double most_sigmas = 6.5;
/// Of a hundred thousand readings that are right one stands out by more.
inline constexpr double chance_sigmas = 4.8;

inline bool names(const Suspect& suspect, int reading) {
    return suspect.reading == reading || std::ranges::find(suspect.or_else, reading) != suspect.or_else.end();
}

/// Once what is named is left out the places are right, or it is told that the rest leaves them open.
inline bool right_without(Survey survey, const SurveyFit& fit, const Net& net, int wrong) {
    for (const Suspect& each : fit.suspects) {
        const int reading = names(each, wrong) ? wrong : each.reading;
        survey.readings[std::size_t(reading)].left_out = true;
    }
    const Adjusted rest = adjust(survey);
    if (!rest.fit || !work_out(survey, *rest.fit).fits) return !fit.suspects.empty();
    return most_off(*rest.fit, net.at) < most_sigmas;
}

/// Whether a good reading that is named stands out by chance alone, once the wrong one is out.
inline bool by_chance(Survey survey, const Suspect& suspect, int wrong) {
    const auto reading = std::size_t(suspect.reading);
    if (wrong >= 0) survey.readings[std::size_t(wrong)].left_out = true;
    const Adjusted rest = adjust(survey, {false, false});
    if (!rest.fit) return std::abs(suspect.by) < chance_sigmas * survey.readings[reading].sigma;
    return std::abs(rest.fit->residuals[reading].normalised) < chance_sigmas;
}

inline Verdict of_troubles(const std::vector<SurveyTrouble>& troubles, int wrong) {
    const auto says = [&](const char* text) {
        return troubles.front().found.find(text) != std::string::npos;
    };
    if (says("two arrangements")) return Verdict::ambiguous;
    // Spans of which all are right are blamed.
    return wrong < 0 && (says("triangle") || says("one place")) ? Verdict::wrong : Verdict::stopped;
}

/// Nothing is said of a wrong reading: it is one that can't be seen.
inline bool hidden(Survey survey, int wrong, double clean_mm) {
    const double by_mm = std::abs(survey.readings[std::size_t(wrong)].value - clean_mm);
    survey.readings[std::size_t(wrong)].value = clean_mm;
    const Adjusted known = adjust(survey, {false, false});
    if (!known.fit) return false;
    const auto least_mm = known.fit->residuals[std::size_t(wrong)].detectable;
    return !least_mm || *least_mm > by_mm;
}

}  // namespace detail

/// @param wrong  index of a blundered reading; -1: none
/// @param clean_mm  what it would have read
inline Verdict verdict_on(const Survey& survey, const Net& net, int wrong = -1, double clean_mm = 0.0) {
    const Adjusted adjusted = adjust(survey);
    if (!adjusted.fit) return detail::of_troubles(adjusted.troubles, wrong);
    const SurveyFit& fit = *adjusted.fit;
    if (!work_out(survey, fit).fits) return Verdict::stopped;
    bool named = false, alarmed = false;
    for (const Suspect& each : fit.suspects) {
        if (detail::names(each, wrong)) {
            named = true;
            continue;
        }
        if (!detail::by_chance(survey, each, wrong)) return Verdict::wrong;
        alarmed = true;
    }
    if (wrong >= 0 && !named)
        return detail::hidden(survey, wrong, clean_mm) ? Verdict::unseen : Verdict::wrong;
    if (!detail::right_without(survey, fit, net, wrong)) return Verdict::wrong;
    return alarmed ? Verdict::alarmed : Verdict::right;
}

}  // namespace fitup::calculations::testing
