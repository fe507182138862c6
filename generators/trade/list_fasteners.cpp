#include <algorithm>

#include "base/text.hpp"
#include "trade/listing.hpp"
#include "trade/names.hpp"

namespace fitup::trade {

namespace {

std::vector<std::string> row_of(const ClearanceHole& hole) {
    const Drill* drill = drill_of(hole.diameter_mm);
    return {hole.designation,
            hole.fit,
            mm_text(hole.nominal_mm),
            mm_text(hole.diameter_mm),
            inch_text(hole.diameter_mm),
            drill ? drill->name : "-",
            source_text(hole.source)};
}

std::vector<std::string> row_of(const Nut& nut) {
    const bool is_known = nut.height_mm > 0.0;
    return {nut.designation,
            nut.series,
            mm_text(nut.across_flats_mm),
            inch_text(nut.across_flats_mm),
            mm_text(nut.across_corners_mm),
            is_known ? mm_text(nut.height_mm) : "not known",
            is_known ? inch_text(nut.height_mm) : "not known",
            source_text(nut.source)};
}

std::vector<std::string> row_of(const Head& head) {
    const bool is_hexagon = head.kind == "hex bolt";
    return {head.designation,
            head.kind,
            mm_text(head.width_mm),
            inch_text(head.width_mm),
            is_hexagon ? mm_text(head.across_corners_mm) : "-",
            mm_text(head.height_mm),
            inch_text(head.height_mm),
            is_hexagon ? "-" : mm_text(head.key_mm),
            source_text(head.source)};
}

std::vector<std::string> row_of(const Washer& washer) {
    return {washer.designation,
            washer.series,
            mm_text(washer.inside_mm),
            mm_text(washer.outside_mm),
            inch_text(washer.outside_mm),
            mm_text(washer.thickness_mm),
            inch_text(washer.thickness_mm),
            source_text(washer.source)};
}

std::vector<std::string> row_of(const ToolRoom& room) {
    return {mm_text(room.across_flats_mm), inch_text(room.across_flats_mm), room.tool,
            mm_text(room.outside_mm),      inch_text(room.outside_mm),      source_text(room.source)};
}

/// A thread's own standard of nut; a bare size shows them all.
bool is_nut_of(const Nut& nut, const Thread* thread) {
    if (!thread || !thread->is_inch()) return true;
    const bool whitworth = thread->series == "BSW" || thread->series == "BSF";
    return whitworth != nut.series.starts_with("ASME");
}

}  // namespace

bool asks_for(std::string_view name, std::string_view size, std::string_view qualifier) {
    std::string key = name_key(name);
    const std::string qualifier_key = name_key(qualifier);
    if (key.empty() || key == qualifier_key) return true;
    if (!qualifier_key.empty() && key.ends_with(qualifier_key)) key.resize(key.size() - qualifier_key.size());
    return fastener_key(key) == name_key(size);
}

Listing list_clearance_holes(std::string_view name) {
    Listing listing{"Clearance holes (ISO 273, ASME B18.2.8)",
                    {"for", "fit", "nominal mm", "hole mm", "hole in", "drill", "source"},
                    {}};
    for (const ClearanceHole& hole : clearance_holes()) {
        if (asks_for(name, hole.designation, hole.fit)) listing.rows.push_back(row_of(hole));
    }
    return listing;
}

Listing list_nuts(std::string_view name) {
    Listing listing{
        "Hexagon nuts, greatest sizes",
        {"for", "series", "flats mm", "flats in", "corners mm", "height mm", "height in", "source"},
        {}};
    for (const Nut& nut : nuts()) {
        const bool is_asked =
            asks_for(name, nut.designation, nut.series) && is_nut_of(nut, find_thread(name));
        if (is_asked) listing.rows.push_back(row_of(nut));
    }
    return listing;
}

Listing list_heads(std::string_view name) {
    Listing listing{
        "Heads of cap screws (width: head diameter) and hex bolts (width: across flats), greatest sizes",
        {"for", "kind", "width mm", "width in", "corners mm", "height mm", "height in", "key mm", "source"},
        {}};
    for (const Head& head : heads()) {
        if (asks_for(name, head.designation, head.kind)) listing.rows.push_back(row_of(head));
    }
    return listing;
}

Listing list_washers(std::string_view name) {
    Listing listing{
        "Plain washers (ISO 7089, ASME B18.21.1 type A)",
        {"for", "series", "inside mm", "outside mm", "outside in", "thickness mm", "thickness in", "source"},
        {}};
    for (const Washer& washer : washers()) {
        if (asks_for(name, washer.designation, washer.series)) listing.rows.push_back(row_of(washer));
    }
    return listing;
}

Listing list_tool_room(std::string_view name) {
    Listing listing{"Room for the tool over a hexagon",
                    {"flats mm", "flats in", "tool", "outside mm", "outside in", "source"},
                    {}};
    const auto flats_mm = parse_number(name_key(name));
    const std::string key = name_key(name);
    for (const ToolRoom& room : tool_rooms()) {
        const bool is_the_row = flats_mm && find_tool_room(*flats_mm, room.tool) == &room;
        if (key.empty() || key == name_key(room.tool) || is_the_row) listing.rows.push_back(row_of(room));
    }
    return listing;
}

}  // namespace fitup::trade
