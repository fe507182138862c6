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

/// A distance of two points: a span, or what their coordinates give.
struct Side {
    int reading = -1;  ///< of a span; -1 otherwise
    double length_mm = 0.0, sigma_mm = 0.0;
    std::string told;
};

using Sides = std::map<std::pair<int, int>, Side>;

/// The first counted coordinate of a point along each axis, where there are both.
struct Placed {
    const Observation *x = nullptr, *y = nullptr;
};

void add_sides_of_coordinates(const Survey& survey, const Network& network, Sides& sides) {
    std::vector<Placed> placed(network.points);
    for (const Observation& seen : network.seen) {
        Placed& here = placed[std::size_t(seen.a)];
        if (seen.quantity == Quantity::x && here.x == nullptr) here.x = &seen;
        if (seen.quantity == Quantity::y && here.y == nullptr) here.y = &seen;
    }
    for (int a = 0; a < int(network.points); ++a) {
        for (int b = a + 1; b < int(network.points); ++b) {
            const Placed &first = placed[std::size_t(a)], &last = placed[std::size_t(b)];
            if (first.x == nullptr || first.y == nullptr || last.x == nullptr || last.y == nullptr) continue;
            const double length = std::hypot(last.x->value - first.x->value, last.y->value - first.y->value);
            const double sigma = std::max(std::hypot(first.x->sigma, last.x->sigma),
                                          std::hypot(first.y->sigma, last.y->sigma));
            sides.emplace(std::pair{a, b},
                          Side{-1, length, sigma,
                               id_of(survey, a) + " and " + id_of(survey, b) + " " +
                                   length_text(survey, length) + " apart by their coordinates"});
        }
    }
}

/// Of each pair the first counted span, or else what the coordinates of both give.
Sides sides_of(const Survey& survey, const Network& network) {
    Sides sides;
    for (const Observation& seen : network.seen)
        if (seen.quantity == Quantity::span)
            sides.emplace(std::minmax(seen.a, seen.b), Side{seen.reading, seen.value, seen.sigma,
                                                            survey.readings[std::size_t(seen.reading)].name +
                                                                " of " + length_text(survey, seen.value)});
    add_sides_of_coordinates(survey, network, sides);
    return sides;
}

/// How many standard deviations of the closure are still the readings' own doubt: one in 700 by chance.
constexpr double doubted_sigmas = 3.0;

void judge_triangle(const Survey& survey, std::array<const Side*, 3> sides,
                    std::vector<SurveyTrouble>& troubles) {
    const bool any_span = std::ranges::any_of(sides, [](const Side* side) { return side->reading >= 0; });
    std::ranges::sort(sides, {}, [](const Side* side) { return -side->length_mm; });
    const double doubt = std::hypot(sides[0]->sigma_mm, sides[1]->sigma_mm, sides[2]->sigma_mm);
    const double most = sides[1]->length_mm + sides[2]->length_mm;
    if (!any_span || sides[0]->length_mm <= most + doubted_sigmas * doubt) return;
    const bool longest_is_span = sides[0]->reading >= 0;
    const auto first_span = std::ranges::find_if(sides, [](const Side* side) { return side->reading >= 0; });
    troubles.push_back(trouble_at(survey.readings[std::size_t((*first_span)->reading)],
                                  sides[0]->told + (longest_is_span ? " between centres" : "") + ", with " +
                                      sides[1]->told + " and " + sides[2]->told,
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

/// Over the pins and yet shorter than both together, unless it was read in inches.
bool shorter_than_pins(const Survey& survey, const Reading& r) {
    if (r.left_out || r.taken != Taken::over || r.written.size() != 1 || survey.units != plan::Units::mm)
        return false;
    const double pins_mm = r.pins_mm[0] + r.pins_mm[1];
    return r.written[0] > 0.0 && r.written[0] < pins_mm && r.written[0] * mm_per_inch >= pins_mm;
}

}  // namespace

std::vector<std::size_t> perhaps_in_inches(const Survey& survey) {
    std::vector<std::size_t> all;
    for (std::size_t i = 0; i < survey.readings.size(); ++i)
        if (shorter_than_pins(survey, survey.readings[i]) && points_differ(survey, survey.readings[i]))
            all.push_back(i);
    return all;
}

SurveyTrouble no_length_trouble(const Survey& survey, std::size_t reading) {
    return no_length(survey, survey.readings[reading]);
}

std::vector<SurveyTrouble> unusable_readings(const Survey& survey) {
    std::vector<SurveyTrouble> troubles;
    for (const Reading& r : survey.readings) {
        if (!points_differ(survey, r))
            troubles.push_back(trouble_at(r, r.name, "different points of the survey"));
        else if (!std::isfinite(r.value) || (r.quantity == Quantity::span && r.value <= 0.0 && !r.left_out))
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
    const Sides sides = sides_of(survey, network);
    for (const auto& [first, ab] : sides) {
        for (int c = first.second + 1; c < int(survey.points.size()); ++c) {
            const auto ac = sides.find({first.first, c}), bc = sides.find({first.second, c});
            if (ac != sides.end() && bc != sides.end())
                judge_triangle(survey, {&ab, &ac->second, &bc->second}, troubles);
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
