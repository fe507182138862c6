#include "calculations/survey_structure.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/text.hpp"
#include "base/units.hpp"
#include "calculations/survey_words.hpp"

namespace fitup::calculations {

namespace {

bool is_point(const Survey& survey, int point) {
    return point >= 0 && std::size_t(point) < survey.points.size();
}

bool points_differ(const Survey& survey, const Reading& r) {
    if (r.quantity == Quantity::x || r.quantity == Quantity::y) return is_point(survey, r.a);
    if (!is_point(survey, r.a) || !is_point(survey, r.b) || r.a == r.b) return false;
    return r.quantity == Quantity::span || (is_point(survey, r.c) && r.c != r.a && r.c != r.b);
}

struct Side {
    const Observation* seen;
    double length_mm;
};

/// The first counted span of each pair.
std::map<std::pair<int, int>, const Observation*> spans_of(const Network& network) {
    std::map<std::pair<int, int>, const Observation*> spans;
    for (const Observation& seen : network.seen)
        if (seen.quantity == Quantity::span) spans.emplace(std::minmax(seen.a, seen.b), &seen);
    return spans;
}

/// How many standard deviations of the closure are still the readings' own doubt: one in 700 by chance.
constexpr double doubted_sigmas = 3.0;

void judge_triangle(const Survey& survey, std::array<const Observation*, 3> sides,
                    std::vector<SurveyTrouble>& troubles) {
    std::ranges::sort(sides, {}, [](const Observation* side) { return -side->value; });
    const double doubt = std::hypot(sides[0]->sigma, sides[1]->sigma, sides[2]->sigma);
    const double most = sides[1]->value + sides[2]->value;
    if (sides[0]->value <= most + doubted_sigmas * doubt) return;
    const auto told = [&](const Observation* side) {
        const Reading& reading = survey.readings[std::size_t(side->reading)];
        return reading.name + " of " + length_text(survey, side->value);
    };
    troubles.push_back(
        trouble_at(survey.readings[std::size_t(sides[0]->reading)],
                   told(sides[0]) + " between centres, with " + told(sides[1]) + " and " + told(sides[2]),
                   "at most " + length_text(survey, most) +
                       ", what the other two give together: one of the three is wrong"));
}

/// A span that leaves nothing between centres: over the pins and shorter than they are.
SurveyTrouble no_length(const Survey& survey, const Reading& r) {
    const double pins_mm = (r.pins_mm[0] + r.pins_mm[1]) / 2.0;
    std::string wanted =
        "a length greater than " +
        (pins_mm > 0.0 ? length_text(survey, pins_mm) + ", half of both pins" : std::string("0"));
    if (!r.written.empty() && r.written[0] > 0.0 && survey.units == plan::Units::mm)
        wanted += "; or is it inches? " + short_text(r.written[0]) + " in is " +
                  length_text(survey, r.written[0] * mm_per_inch);
    return trouble_at(r, r.name + " of " + value_text(survey, r, r.written.empty() ? r.value : r.written[0]),
                      wanted);
}

}  // namespace

std::vector<SurveyTrouble> unusable_readings(const Survey& survey) {
    std::vector<SurveyTrouble> troubles;
    for (const Reading& r : survey.readings) {
        if (!points_differ(survey, r))
            troubles.push_back(trouble_at(r, r.name, "different points of the survey"));
        else if (!std::isfinite(r.value) || (r.quantity == Quantity::span && r.value <= 0.0))
            troubles.push_back(no_length(survey, r));
        else if (!std::isfinite(r.sigma) || r.sigma <= 0.0)
            troubles.push_back(
                trouble_at(r, r.name + " with an uncertainty of " + value_text(survey, r, r.sigma),
                           "an uncertainty greater than 0"));
    }
    return troubles;
}

std::vector<SurveyTrouble> broken_triangles(const Survey& survey, const Network& network) {
    std::vector<SurveyTrouble> troubles;
    const auto spans = spans_of(network);
    for (const auto& [first, ab] : spans) {
        for (int c = first.second + 1; c < int(survey.points.size()); ++c) {
            const auto ac = spans.find({first.first, c}), bc = spans.find({first.second, c});
            if (ac != spans.end() && bc != spans.end())
                judge_triangle(survey, {ab, ac->second, bc->second}, troubles);
        }
    }
    return troubles;
}

std::vector<SurveyTrouble> missing_side(const Survey& survey, const Network& network) {
    const bool spans_alone = !has_coordinates(network) && !has_angles(network);
    if (!spans_alone || survey.points.size() < 3) return {};
    if (survey.clockwise) {
        const auto& ids = *survey.clockwise;
        const bool good = is_point(survey, ids[0]) && is_point(survey, ids[1]) && is_point(survey, ids[2]) &&
                          ids[0] != ids[1] && ids[1] != ids[2] && ids[0] != ids[2];
        if (good) return {};
    }
    return {{"clockwise", survey.clockwise_line, survey.clockwise ? "ids that aren't three" : "spans alone",
             "three ids in clockwise order as seen: spans are the same for a pattern and its mirror image"}};
}

}  // namespace fitup::calculations
