#include "calculations/survey_places.hpp"

#include <cmath>
#include <set>

#include "parts/result_file.hpp"

namespace fitup::calculations {

namespace {

using parameters::Node;

constexpr double most_coordinate_mm = 20'000.0;  ///< as a length in a file

std::optional<plan::Point> place_in(const Node& point) {
    const Node* at = point.find("at_mm");
    if (at == nullptr || at->items.size() != 2) return {};
    for (const Node& item : at->items) {
        if (item.type != Node::Type::number || std::abs(item.number) > most_coordinate_mm) return {};
    }
    return plan::Point{at->items[0].number, at->items[1].number};
}

/// Row by row; empty where it isn't of the size.
std::vector<double> covariance_in(const Node& result, std::size_t places) {
    std::vector<double> numbers;
    const Node* rows = result.find("covariance_mm2");
    if (rows == nullptr) return {};
    for (const Node& row : rows->items) {
        for (const Node& item : row.items) numbers.push_back(item.number);
    }
    return numbers.size() == 4 * places * places ? numbers : std::vector<double>{};
}

/// What keeps the result from being used; "" where nothing does.
std::string read_into(const Node& result, SurveyPlaces& places) {
    const Node* points = result.find("points");
    if (points == nullptr || points->items.empty()) return "it has no points";
    std::set<std::string> seen;
    for (const Node& point : points->items) {
        const std::string id = parts::text_in(point, "id");
        const auto place = place_in(point);
        if (!place) return "its point " + id + " has no place [x, y] within 20 m";
        if (!seen.insert(id).second) return "its point " + id + " stands twice";
        places.ids.push_back(id);
        places.places_mm.push_back(*place);
    }
    places.covariance_mm2 = covariance_in(result, places.ids.size());
    const std::string side = parts::text_in(result, "measured_on");
    places.measured_on = side == "A" ? plan::Side::A : plan::Side::B;
    return side == "A" || side == "B" ? "" : "it does not say on which side it was measured";
}

}  // namespace

SurveyPlaces SurveyPlaces::seen_from(plan::Side face) const {
    SurveyPlaces result = *this;
    if (face == plan::Side::B) return result;
    for (plan::Point& place : result.places_mm) place.x_mm = 0.0 - place.x_mm;
    const std::size_t size = 2 * ids.size();
    for (std::size_t i = 0; i < result.covariance_mm2.size(); ++i) {
        const bool one_of_x = (i / size) % 2 != (i % size) % 2;
        if (one_of_x) result.covariance_mm2[i] = 0.0 - result.covariance_mm2[i];
    }
    return result;
}

SurveyPlaces SurveyPlaces::only(const std::vector<std::size_t>& which) const {
    SurveyPlaces result;
    result.measured_on = measured_on;
    for (const std::size_t i : which) {
        result.ids.push_back(ids[i]);
        result.places_mm.push_back(places_mm[i]);
    }
    if (covariance_mm2.empty()) return result;
    const std::size_t size = 2 * ids.size();
    for (const std::size_t i : which) {
        for (const std::size_t row : {2 * i, 2 * i + 1}) {
            for (const std::size_t j : which) {
                result.covariance_mm2.push_back(covariance_mm2[row * size + 2 * j]);
                result.covariance_mm2.push_back(covariance_mm2[row * size + 2 * j + 1]);
            }
        }
    }
    return result;
}

std::optional<SurveyPlaces> read_survey_places(parts::Reader& reader, const parts::Field& field) {
    const auto result = parts::read_result(reader, field, "survey");
    if (!result) return {};
    SurveyPlaces places;
    const std::string trouble = read_into(*result, places);
    if (trouble.empty()) return places;
    reader.wrong(field, "the result file of a survey with its points", trouble);
    return {};
}

}  // namespace fitup::calculations
