#include "calculations/survey_blunders.hpp"

#include <algorithm>
#include <cmath>

#include "calculations/survey_slips.hpp"
#include "calculations/survey_words.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

/// A slip explains a reading that it brings this near to what is expected (all but 0.3 % of true slips), and
/// is worth naming where it changes the reading by more than doubt could.
constexpr double near_sigmas = 3.0, least_change_sigmas = 4.0;
/// Slips that give values this near, in standard deviations, can't be told apart: one explanation under
/// several names, the likeliest first.
constexpr double same_sigmas = near_sigmas;
constexpr std::size_t most_names = 2, most_pairs = 2;

struct Explanation {
    std::optional<double> value;
    std::vector<std::string> names;
};

std::string or_text(const std::vector<std::string>& names) {
    std::string text;
    for (std::size_t i = 0; i < std::min(names.size(), most_names); ++i)
        text += (i > 0 ? ", or " : "") + names[i];
    return text;
}

std::vector<Explanation> by_number(const Survey& survey, const Reading& reading, const Expected& expected) {
    std::vector<Explanation> all;
    for (const Slip& slip : slips_of(survey, reading)) {
        if (std::abs(slip.value - expected.value) > near_sigmas * expected.sigma) continue;
        if (std::abs(slip.value - reading.value) < least_change_sigmas * expected.sigma) continue;
        const auto same = std::ranges::find_if(all, [&](const Explanation& other) {
            return std::abs(*other.value - slip.value) < same_sigmas * expected.sigma;
        });
        if (same == all.end())
            all.push_back({slip.value, {slip.text}});
        else
            same->names.push_back(slip.text);
    }
    return all;
}

/// Other pairs of points that the span fits, those that share a point with it if there are any.
std::vector<Explanation> by_other_ids(const Survey& survey, const Reading& reading,
                                      const Expected& expected) {
    if (reading.quantity != Quantity::span || expected.at_mm == nullptr) return {};
    std::vector<std::string> sharing, others;
    const auto& at = *expected.at_mm;
    for (int c = 0; c < int(at.size()); ++c) {
        for (int d = c + 1; d < int(at.size()); ++d) {
            if (c == std::min(reading.a, reading.b) && d == std::max(reading.a, reading.b)) continue;
            const double length = plan::distance_mm(at[std::size_t(c)], at[std::size_t(d)]);
            if (std::abs(length - reading.value) > near_sigmas * expected.sigma) continue;
            const bool shares = c == reading.a || c == reading.b || d == reading.a || d == reading.b;
            (shares ? sharing : others)
                .push_back("taken between " + id_of(survey, c) + " and " + id_of(survey, d) + ", which are " +
                           length_text(survey, length) + " apart");
        }
    }
    std::vector<std::string>& pairs = sharing.empty() ? others : sharing;
    if (pairs.empty() || pairs.size() > most_pairs) return {};
    return {{std::nullopt, pairs}};
}

}  // namespace

Blunder blunder_of(const Survey& survey, std::size_t index, const Expected& expected) {
    const Reading& reading = survey.readings[index];
    std::vector<Explanation> all = by_number(survey, reading, expected);
    for (Explanation& other : by_other_ids(survey, reading, expected)) all.push_back(std::move(other));
    if (all.size() == 1) return {or_text(all[0].names), all[0].value};
    if (all.size() == 2)
        return {"either " + or_text({all[0].names[0]}) + "; or " + or_text({all[1].names[0]}), {}};
    return {};
}

}  // namespace fitup::calculations
