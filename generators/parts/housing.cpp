#include "parts/adapter_plate.hpp"
#include "trade/trade.hpp"

namespace fitup::parts {

namespace {

using plan::Side;

/// Height of the spigot that a housing brings, and how far it is under the least pilot bore: settled in the
/// file format.
constexpr double spigot_height_mm = 5.0;
constexpr double spigot_under_pilot_mm = 0.05;

const trade::Housing* find_housing(const Reader& reader, const Field& field) {
    return trade::find_housing(reader.text_or(field["standard"], ""));
}

HoleParameters housing_hole(const Reader& reader, const Field& field, const trade::Housing& housing) {
    const bool is_metric = reader.text_or(field["threads"], "inch") == "metric";
    const std::string& thread = is_metric ? housing.thread_metric : housing.thread_inch;
    HoleParameters hole;
    hole.field = field;
    hole.hole.kind = plan::HoleKind::clearance;
    hole.hole.from = plan::other(reader.side_or(field["side"], Side::A));
    if (const auto* clearance = trade::find_clearance_hole(thread, "normal")) {
        hole.hole.diameter_mm = clearance->diameter_mm;
        hole.hole.fastener = plan::Fastener{thread, clearance->nominal_mm};
    }
    return hole;
}

}  // namespace

std::optional<PatternParameters> housing_pattern(Reader& reader, const Field& field) {
    if (!field) return {};
    const trade::Housing* housing = find_housing(reader, field);
    if (housing == nullptr) {
        if (reader.text(field["standard"])) {
            reader.unknown_name(field["standard"], "a housing of the table (`fitup lookup housings`)",
                                trade::names_in("housings"));
        }
        return {};
    }
    PatternParameters pattern;
    pattern.field = field;
    pattern.name = "housing";
    pattern.from_standard = true;
    pattern.layout.places =
        CircleLayout{.diameter_mm = housing->bolt_circle_mm,
                     .count = housing->hole_count,
                     .start_angle = Angle::from_degrees(90.0 + housing->first_hole_from_vertical_deg),
                     .skip = {}};
    pattern.hole = housing_hole(reader, field, *housing);
    return pattern;
}

std::optional<RegisterParameters> housing_register(const Reader& reader, const Field& field) {
    const trade::Housing* housing = field ? find_housing(reader, field) : nullptr;
    if (housing == nullptr) return {};
    RegisterParameters result{.field = field, .reg = {}, .bore_mm = {}};
    result.reg.side = reader.side_or(field["side"], Side::A);
    result.reg.is_spigot = true;
    result.reg.diameter_mm = housing->pilot_least_mm - spigot_under_pilot_mm;
    result.reg.length_mm = spigot_height_mm;
    result.reg.mates_with_mm = housing->pilot_least_mm;
    result.reg.mates_most_mm = housing->pilot_most_mm;
    return result;
}

}  // namespace fitup::parts
