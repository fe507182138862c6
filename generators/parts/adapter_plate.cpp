#include "parts/adapter_plate.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "parts/hole_shape.hpp"
#include "parts/plate_results.hpp"
#include "parts/plate_shape.hpp"

namespace fitup::parts {

namespace {

using plan::Plan;

void add_bore(const AdapterPlate& plate, Plan& plan) {
    if (!plate.bore) return;
    plan::Hole bore = *plate.bore;
    bore.through = true;
    bore.depth_mm = plate.thickness_mm;
    plan.holes.push_back(std::move(bore));
}

std::optional<double> circle_diameter_mm(const Layout& layout) {
    if (const auto* circle = std::get_if<CircleLayout>(&layout.places)) return circle->diameter_mm;
    if (const auto* clock = std::get_if<ClockLayout>(&layout.places)) return clock->diameter_mm;
    return {};
}

void add_pattern(Reader& reader, const PatternParameters& pattern, double thickness_mm, Plan& plan) {
    plan::Pattern made{.name = pattern.name,
                       .seen_from = pattern.seen_from,
                       .measured_on = pattern.measured_on,
                       .from_standard = pattern.from_standard,
                       .circle_diameter_mm = circle_diameter_mm(pattern.layout),
                       .holes = {},
                       .line = pattern.field.line()};
    if (pattern.survey) {
        made.survey = pattern.survey->file;
        made.datum = pattern.survey->datum;
    }
    plan::Hole hole = shaped_hole(reader, pattern.hole, thickness_mm);
    hole.pattern = pattern.name;
    if (pattern.hole.slot) {
        hole.slot_direction =
            direction_in_plate(pattern.hole.slot->direction, pattern.layout, pattern.seen_from);
    }
    for (const NumberedPlace& place : places(pattern.layout, pattern.seen_from)) {
        hole.id = pattern.name + "-" + std::to_string(place.ordinal);
        hole.at_mm = place.at_mm;
        if (pattern.survey)
            hole.position_sigma_mm =
                pattern.survey->position_sigma_mm[static_cast<std::size_t>(place.ordinal - 1)];
        made.holes.push_back(plan.holes.size());
        plan.holes.push_back(hole);
    }
    plan.patterns.push_back(std::move(made));
}

std::map<std::string, plan::Point> places_by_id(const Plan& plan) {
    std::map<std::string, plan::Point> places;
    for (const plan::Hole& hole : plan.holes) places.emplace(hole.id, hole.at_mm);
    return places;
}

std::vector<std::string> ids_of(const std::map<std::string, plan::Point>& places) {
    std::vector<std::string> ids;
    for (const auto& entry : places) ids.push_back(entry.first);
    return ids;
}

/// Turns the slots of a pattern toward the hole that they name, once every hole has its place.
void aim_slots(Reader& reader, const SlotParameters& slot, const plan::Pattern& pattern, Plan& plan) {
    const auto places = places_by_id(plan);
    const auto goal = places.find(*slot.toward);
    if (goal == places.end()) {
        reader.unknown_name(slot.field["toward"], "the id of a hole of this plate", ids_of(places));
        return;
    }
    for (const std::size_t index : pattern.holes) {
        plan::Hole& hole = plan.holes[index];
        if (plan::distance_mm(hole.at_mm, goal->second) < plan::same_point_mm) {
            reader.wrong(slot.field["toward"], "the id of a hole at another place than " + hole.id);
            continue;
        }
        hole.slot_direction = Angle::from_radians(
            std::atan2(goal->second.y_mm - hole.at_mm.y_mm, goal->second.x_mm - hole.at_mm.x_mm));
    }
}

void add_patterns(Reader& reader, const AdapterPlate& plate, Plan& plan) {
    for (const PatternParameters& pattern : plate.patterns) {
        add_pattern(reader, pattern, plate.thickness_mm, plan);
    }
    for (std::size_t i = 0; i < plate.patterns.size(); ++i) {
        const auto& slot = plate.patterns[i].hole.slot;
        if (slot && slot->toward) aim_slots(reader, *slot, plan.patterns[i], plan);
    }
}

}  // namespace

Planned plan_of(Reader& reader, const AdapterPlate& plate) {
    Plan plan = plate.header;
    plan.thickness_from = plate.thickness_from;
    add_bore(plate, plan);
    add_patterns(reader, plate, plan);
    add_registers(reader, plate, plan);
    add_body(reader, plate, plan);
    // The hollow and what follows are cut into an outline, so there must be one.
    if (reader.has_faults()) return refused(reader);
    add_hollow(reader, plate, plan);
    add_reliefs(reader, plate, plan);
    add_marks(reader, plate, plan);
    if (reader.has_faults()) return refused(reader);
    return {std::move(plan), {}, result_findings(plate)};
}

Planned plan_adapter_plate(const parameters::Document& document) {
    Reader reader(document, units_of(document));
    const AdapterPlate plate = read_adapter_plate(reader);
    if (reader.has_faults()) return refused(reader);
    return plan_of(reader, plate);
}

}  // namespace fitup::parts
