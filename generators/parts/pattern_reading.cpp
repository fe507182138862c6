#include <algorithm>
#include <array>
#include <map>

#include "parts/plate_results.hpp"

namespace fitup::parts {

namespace {

using plan::Side;

/// Ids of the plate's other features start with these words.
constexpr std::array<std::string_view, 8> reserved_names{"bore",       "outline",    "hollow", "register",
                                                         "register-A", "register-B", "relief", "mark"};

CircleLayout read_circle(Reader& reader, const Field& field) {
    CircleLayout circle;
    circle.diameter_mm = reader.length_mm_or(field["diameter"], 0.0);
    circle.count = static_cast<int>(std::clamp(reader.number(field["count"]).value_or(0.0), 0.0, 2000.0));
    circle.start_angle = reader.angle_or(field["start_angle"], {});
    for (std::size_t i = 0; i < field["skip"].size(); ++i) {
        const double ordinal = reader.number(field["skip"].item(i)).value_or(1.0);
        if (ordinal > circle.count && circle.count > 0) {
            reader.wrong(field["skip"].item(i),
                         "an ordinal from 1 to the count, " + std::to_string(circle.count));
        } else {
            circle.skip.push_back(static_cast<int>(std::clamp(ordinal, 1.0, 2000.0)));
        }
    }
    if (circle.count > 0 && static_cast<int>(circle.skip.size()) >= circle.count) {
        reader.wrong(field["skip"], "at least one hole left");
    }
    return circle;
}

ClockLayout read_clock(const Reader& reader, const Field& field) {
    ClockLayout clock{.diameter_mm = reader.length_mm_or(field["diameter"], 0.0), .hours = {}};
    for (std::size_t i = 0; i < field["hours"].size(); ++i) {
        clock.hours.push_back(reader.number(field["hours"].item(i)).value_or(0.0));
    }
    return clock;
}

/// A fastener that the hole can't take.
void check_fastener(Reader& reader, const Field& field, plan::HoleKind hole) {
    const Field kind = field["kind"];
    const std::string found = reader.text_or(kind, "none");
    if (found == "none") return;
    if (hole == plan::HoleKind::tapped && found == "bolt and nut")
        reader.wrong(kind, "\"stud\", \"hex bolt\", \"cap screw\", \"jack screw\" or \"none\"",
                     "a tapped hole is the nut");
    else if (hole == plan::HoleKind::clearance && found == "jack screw")
        reader.wrong(kind, "\"stud\", \"hex bolt\", \"cap screw\", \"bolt and nut\" or \"none\"",
                     "a jack screw needs a tapped hole");
    else if (hole != plan::HoleKind::tapped && hole != plan::HoleKind::clearance)
        reader.wrong(kind, "\"none\"", "only a tapped or clearance hole takes one");
}

PatternParameters read_pattern(Reader& reader, const Field& field) {
    PatternParameters pattern;
    pattern.field = field;
    pattern.name = reader.text_or(field["name"], "");
    pattern.measured_on = bool(field["measured_on"]);
    pattern.seen_from = read_seen_from(reader, field);
    pattern.layout = read_layout(reader, field);
    if (field["survey"]) read_survey(reader, field, pattern);
    pattern.hole = read_hole(reader, field["hole"]);
    check_fastener(reader, field["fastener"], pattern.hole.hole.kind);
    return pattern;
}

void check_names(Reader& reader, const std::vector<PatternParameters>& patterns) {
    std::map<std::string, int> lines;
    for (const PatternParameters& pattern : patterns) {
        const Field name = pattern.field["name"];
        if (pattern.from_standard || pattern.name.empty()) continue;
        if (std::find(reserved_names.begin(), reserved_names.end(), pattern.name) != reserved_names.end()) {
            reader.wrong(name, "another name: features of the plate itself are called that");
        }
        const auto [first, is_new] = lines.emplace(pattern.name, name.line());
        if (!is_new) {
            reader.wrong(name, "a name that no other pattern has",
                         "the first one stands in line " + std::to_string(first->second));
        }
    }
}

void check_hole_count(Reader& reader, const std::vector<PatternParameters>& patterns) {
    std::size_t count = 0;
    for (const PatternParameters& pattern : patterns) count += place_count(pattern.layout);
    if (count <= most_holes) return;
    reader.wrong_in_words(
        reader.root()["patterns"],
        "found " + std::to_string(count) + " holes in all, wanted at most " + std::to_string(most_holes));
}

}  // namespace

Layout read_layout(Reader& reader, const Field& field) {
    Layout layout{PointsLayout{}, reader.angle_or(field["rotate"], {}), reader.point_or(field["shift"], {})};
    if (field["circle"]) {
        layout.places = read_circle(reader, field["circle"]);
    } else if (field["clock"]) {
        layout.places = read_clock(reader, field["clock"]);
    } else {
        layout.places = PointsLayout{reader.points(field["points"])};
    }
    return layout;
}

/// The casting on B is looked at through the plate from A.
plan::Side read_seen_from(const Reader& reader, const Field& field) {
    if (!field["measured_on"]) return reader.side_or(field["seen_from"], Side::B);
    return plan::other(reader.side_or(field["measured_on"], Side::A));
}

std::vector<PatternParameters> read_patterns(Reader& reader, const Field& root) {
    std::vector<PatternParameters> patterns;
    const Field list = root["patterns"];
    for (std::size_t i = 0; i < list.size(); ++i) patterns.push_back(read_pattern(reader, list.item(i)));
    const bool is_replaced = std::any_of(patterns.begin(), patterns.end(),
                                         [](const PatternParameters& own) { return own.name == "housing"; });
    auto brought = housing_pattern(reader, root["housing"]);
    if (brought && !is_replaced) patterns.insert(patterns.begin(), std::move(*brought));
    check_names(reader, patterns);
    check_hole_count(reader, patterns);
    return patterns;
}

}  // namespace fitup::parts
