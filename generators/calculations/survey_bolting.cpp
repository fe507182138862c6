#include "calculations/survey_bolting.hpp"

#include "base/text.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

double circle_diameter_mm(const Survey& survey, const EqualSpacing& spacing) {
    return survey.expect_circle ? survey.expect_circle->diameter_mm.value_or(spacing.diameter_mm)
                                : spacing.diameter_mm;
}

std::vector<plan::Point> other_places(const Survey& survey, const std::optional<EqualSpacing>& spacing) {
    if (!survey.bolts_to->pattern_mm.empty() || !spacing) return survey.bolts_to->pattern_mm;
    const double grown = circle_diameter_mm(survey, *spacing) / spacing->diameter_mm;
    std::vector<plan::Point> places;
    for (const plan::Point& place : spacing->places_mm)
        places.push_back(spacing->centre_mm + (place - spacing->centre_mm) * grown);
    return places;
}

}  // namespace

std::optional<BoltingCase> bolting_case(const Survey& survey, const SurveyFit& fit,
                                        const std::optional<EqualSpacing>& spacing) {
    if (!survey.bolts_to) return {};
    BoltingCase one;
    one.second_mm = other_places(survey, spacing);
    if (one.second_mm.size() != fit.points_mm.size()) return {};
    for (const SurveyPoint& point : survey.points) one.ids.push_back(point.id);
    one.first_mm = fit.points_mm;
    one.holes_mm.assign(one.ids.size(), survey.bolts_to->hole_mm);
    one.fasteners_mm.assign(one.ids.size(), survey.bolts_to->fastener_mm);
    one.units = survey.units;
    one.doubt.covariance_mm2 = fit.covariance_mm2;
    one.doubt.made_within_mm = survey.bolts_to->made_within_mm;
    return one;
}

std::string other_pattern_words(const Survey& survey, const std::optional<EqualSpacing>& spacing) {
    if (!survey.bolts_to->pattern_name.empty()) return survey.bolts_to->pattern_name;
    if (!survey.bolts_to->pattern_mm.empty() || !spacing) return "the other pattern";
    return "the equally spaced pattern on " + short_text(circle_diameter_mm(survey, *spacing), 3) + " mm";
}

}  // namespace fitup::calculations
