#include <filesystem>

#include "base/error.hpp"
#include "base/file.hpp"
#include "calculations/survey_reading.hpp"
#include "parts/adapter_plate.hpp"
#include "parts/kinds.hpp"

namespace fitup::calculations {

namespace {

using parts::Field;
using parts::Reader;

/// Whoever measures the casting on B looks at it as one looks at face A, where X runs the other way than in
/// the plate's frame.
plan::Point as_seen(plan::Point in_plate, plan::Side measured_on) {
    return measured_on == plan::Side::B ? plan::Point{0.0 - in_plate.x_mm, in_plate.y_mm} : in_plate;
}

std::vector<plan::Point> places_given(Reader& reader, const Field& field, plan::Side measured_on) {
    std::vector<plan::Point> seen;
    const parts::Layout layout = parts::read_layout(reader, field);
    for (const parts::NumberedPlace& place : parts::places(layout, parts::read_seen_from(reader, field)))
        seen.push_back(as_seen(place.at_mm, measured_on));
    return seen;
}

/// The plan of the plate that a text FILE#NAME names; nothing (and a fault) where it can't be had.
std::optional<plan::Plan> plate_of(Reader& reader, const Field& field, const std::string& file) {
    const std::string path = (std::filesystem::path(reader.folder()) / file).string();
    try {
        parts::Planned planned = parts::plan_file(read_file(path), path);
        if (planned.plan) return std::move(planned.plan);
        reader.wrong(field, "a part without faults",
                     "it has " + std::to_string(planned.faults.size()) +
                         ", the first: " + parameters::to_text(planned.faults.front()));
    } catch (const FileError& error) {
        reader.wrong_in_words(field, error.what());
    }
    return {};
}

std::vector<plan::Point> places_of_plate(Reader& reader, const Field& field, BoltsTo& bolts_to,
                                         plan::Side measured_on) {
    const std::string& text = field.node->text;
    const std::size_t hash = text.rfind('#');
    bolts_to.pattern_name = text.substr(hash + 1);
    const auto plate = plate_of(reader, field, text.substr(0, hash));
    if (!plate) return {};
    std::vector<std::string> names;
    for (const plan::Pattern& pattern : plate->patterns) {
        names.push_back(text.substr(0, hash + 1) + pattern.name);
        if (pattern.name != bolts_to.pattern_name) continue;
        std::vector<plan::Point> seen;
        for (const std::size_t hole : pattern.holes)
            seen.push_back(as_seen(plate->holes[hole].at_mm, measured_on));
        return seen;
    }
    reader.unknown_name(field, "a pattern of that part", names);
    return {};
}

void check_count(Reader& reader, const Field& pattern, const Survey& survey, const BoltsTo& bolts_to) {
    const std::size_t count = bolts_to.pattern_mm.size();
    if (reader.has_faults() || count == survey.points.size()) return;
    reader.wrong_in_words(pattern, "the pattern has " + std::to_string(count) + " places for " +
                                       std::to_string(survey.points.size()) +
                                       " points; wanted one for each, in their order");
}

}  // namespace

void read_bolts_to(Reader& reader, const Field& field, Survey& survey) {
    if (!field) return;
    BoltsTo bolts_to;
    bolts_to.hole_mm = reader.length_mm_or(field["hole"], 0.0);
    bolts_to.fastener_mm = reader.length_mm_or(field["fastener"], 0.0);
    bolts_to.made_within_mm = reader.length_mm_or(field["made_within"], 0.0);
    if (bolts_to.hole_mm > 0.0 && bolts_to.fastener_mm > bolts_to.hole_mm)
        reader.wrong(field["fastener"], "at most the hole, " + reader.length_text(bolts_to.hole_mm));
    const Field pattern = field["pattern"];
    if (!pattern) {
        if (!survey.expect_circle) reader.wrong(pattern, "the other pattern, or `expect` beside `bolts_to`");
    } else if (pattern.node->type == parameters::Node::Type::object) {
        bolts_to.pattern_mm = places_given(reader, pattern, survey.measured_on);
        check_count(reader, pattern, survey, bolts_to);
    } else if (pattern.node->text.find('#') != std::string::npos) {
        bolts_to.pattern_mm = places_of_plate(reader, pattern, bolts_to, survey.measured_on);
        check_count(reader, pattern, survey, bolts_to);
    }
    survey.bolts_to = std::move(bolts_to);
}

}  // namespace fitup::calculations
