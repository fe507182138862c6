#include <algorithm>

#include "base/error.hpp"
#include "base/text.hpp"
#include "trade/names.hpp"
#include "trade/table.hpp"

namespace fitup::trade {

namespace {

/// Basic diameter of a size that a fastener table names: from the thread table, where every such size has a
/// thread.
double nominal_mm(const std::string& size) {
    for (const Thread& thread : threads()) {
        if (fastener_size(thread) == size) return thread.major_mm;
    }
    throw Error("no thread gives the diameter of the fastener size " + size);
}

ClearanceHole read_clearance_hole(const Row& row) {
    const std::string& size = row.text("designation");
    return {size, row.text("fit"), nominal_mm(size), row.number("hole_diameter_mm"), row.source()};
}

Nut read_nut(const Row& row) {
    return {row.text("designation"),
            row.text("series"),
            row.number("across_flats_mm"),
            row.number("across_corners_mm"),
            row.optional_number("height_mm").value_or(0.0),
            row.source()};
}

Head read_head(const Row& row) {
    return {row.text("designation"),
            row.text("kind"),
            row.number("width_mm"),
            row.optional_number("across_corners_mm").value_or(0.0),
            row.number("height_mm"),
            row.optional_number("key_mm").value_or(0.0),
            row.source()};
}

Washer read_washer(const Row& row) {
    return {row.text("designation"),           row.text("series"),         row.number("inside_diameter_mm"),
            row.number("outside_diameter_mm"), row.number("thickness_mm"), row.source()};
}

ToolRoom read_tool_room(const Row& row) {
    const bool is_socket = row.text("tool").starts_with("hand socket");
    return {row.number("across_flats_mm"), is_socket ? "hand socket" : "ring spanner",
            row.number("max_outside_diameter_mm"), row.source()};
}

bool is_whitworth(std::string_view fastener) {
    const Thread* thread = find_thread(fastener);
    return thread && (thread->series == "BSW" || thread->series == "BSF");
}

template <class T>
bool is_of_size(const T& row, const std::string& key) {
    return name_key(row.designation) == key;
}

/// Which nut a fastener takes: one of its own standard, so that a Whitworth thread gets no unified nut.
bool is_nut_for(const Nut& nut, bool whitworth) {
    const bool is_british = nut.series.starts_with("BS");
    return nut.height_mm > 0.0 && is_british == whitworth && !nut.series.starts_with("Whitworth original");
}

/// Largest excess of a fastener's flats over a tool's opening of the same size: inch flats are printed
/// rounded to 0.001 in (7/16 = 11.1125 as 11.125), and a tool's opening is 0.05 mm and more above its name.
constexpr double opening_play_mm = 0.05;

}  // namespace

std::span<const ClearanceHole> clearance_holes() {
    static const std::vector<ClearanceHole> rows = read_rows("clearance_holes", read_clearance_hole);
    return rows;
}

const ClearanceHole* find_clearance_hole(std::string_view fastener, std::string_view fit) {
    const std::string key = fastener_key(fastener);
    const std::string wanted_fit = name_key(fit);
    for (const ClearanceHole& hole : clearance_holes()) {
        if (is_of_size(hole, key) && hole.fit == wanted_fit) return &hole;
    }
    return nullptr;
}

std::span<const Nut> nuts() {
    static const std::vector<Nut> rows = read_rows("hex_nuts", read_nut);
    return rows;
}

const Nut* find_nut(std::string_view fastener) {
    const bool whitworth = is_whitworth(fastener);
    const std::string key = fastener_key(fastener);
    for (const Nut& nut : nuts()) {
        if (is_of_size(nut, key) && is_nut_for(nut, whitworth)) return &nut;
    }
    return nullptr;
}

std::span<const Head> heads() {
    static const std::vector<Head> rows = read_rows("heads", read_head);
    return rows;
}

const Head* find_head(std::string_view fastener, std::string_view kind) {
    if (is_whitworth(fastener)) return nullptr;  // The heads of BS 1083 are not in the table.
    const std::string key = fastener_key(fastener);
    const std::string wanted_kind = name_key(kind);
    for (const Head& head : heads()) {
        if (is_of_size(head, key) && name_key(head.kind) == wanted_kind) return &head;
    }
    return nullptr;
}

std::span<const Washer> washers() {
    static const std::vector<Washer> rows = read_rows("washers", read_washer);
    return rows;
}

const Washer* find_washer(std::string_view fastener) {
    const std::string key = fastener_key(fastener);
    for (const Washer& washer : washers()) {
        if (is_of_size(washer, key) && !washer.series.ends_with("wide")) return &washer;
    }
    return nullptr;
}

std::span<const ToolRoom> tool_rooms() {
    static const std::vector<ToolRoom> rows = read_rows("socket_clearance", read_tool_room);
    return rows;
}

const ToolRoom* find_tool_room(double across_flats_mm, std::string_view tool) {
    const std::string wanted = name_key(tool);
    const ToolRoom* best = nullptr;
    for (const ToolRoom& room : tool_rooms()) {
        const bool fits = room.across_flats_mm >= across_flats_mm - opening_play_mm;
        if (name_key(room.tool) != wanted || !fits) continue;
        if (!best || room.across_flats_mm < best->across_flats_mm) best = &room;
    }
    return best;
}

std::vector<std::string> fastener_names() {
    std::vector<std::string> names;
    const auto add = [&names](const std::string& name) {
        if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    };
    for (const ClearanceHole& hole : clearance_holes()) add(hole.designation);
    for (const Nut& nut : nuts()) add(nut.designation);
    for (const Washer& washer : washers()) add(washer.designation);
    for (const Head& head : heads()) add(head.designation);
    return names;
}

}  // namespace fitup::trade
