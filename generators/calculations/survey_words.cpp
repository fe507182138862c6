#include "calculations/survey_words.hpp"

#include "base/text.hpp"
#include "base/units.hpp"

namespace fitup::calculations {

std::string length_text(const Survey& survey, double length_mm) {
    return survey.units == plan::Units::in ? fixed_text(length_mm / mm_per_inch, 4) + " in"
                                           : fixed_text(length_mm, 2) + " mm";
}

std::string value_text(const Survey& survey, const Reading& reading, double value) {
    return reading.quantity == Quantity::angle ? fixed_text(value * deg_per_rad, 2) + " degrees"
                                               : length_text(survey, value);
}

const std::string& id_of(const Survey& survey, int point) { return survey.points[std::size_t(point)].id; }

std::string ids_text(const Survey& survey, std::span<const int> points) {
    std::string text;
    for (std::size_t i = 0; i < points.size(); ++i) {
        if (i > 0) text += i + 1 == points.size() ? " and " : ", ";
        text += id_of(survey, points[i]);
    }
    return text;
}

std::string span_between(const Survey& survey, int a, int b) {
    return "a span between " + id_of(survey, a) + " and " + id_of(survey, b);
}

SurveyTrouble trouble_at(const Reading& reading, std::string found, std::string wanted) {
    return {reading.key, reading.line, std::move(found), std::move(wanted)};
}

SurveyTrouble trouble_at_point(const Survey& survey, int point, std::string found, std::string wanted) {
    return {"points[" + std::to_string(point) + "]", survey.points[std::size_t(point)].line, std::move(found),
            std::move(wanted)};
}

}  // namespace fitup::calculations
