#include "parts/recess.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "parts/common_header.hpp"
#include "trade/trade.hpp"

namespace fitup::parts {

namespace {

using plan::SunkFastener;

/// A diameter this little over a whole number of mm is that number: a sum of table values, not a width of its
/// own.
constexpr double rounding_mm = 1e-9;

void take_source(SunkFastener& sunk, const trade::Source& source) {
    const std::string text = source_text(source);
    sunk.source = sunk.source.empty() ? text : sunk.source + "; " + text;
    sunk.unverified = sunk.unverified || source.unverified;
}

/// Nut or head, its height and the width over its flats (a cap screw: over its head).
bool take_body(SunkFastener& sunk) {
    if (sunk.what == "nut") {
        const trade::Nut* nut = trade::find_nut(sunk.designation);
        if (nut == nullptr || nut->height_mm <= 0.0) return false;
        sunk.across_flats_mm = nut->across_flats_mm;
        sunk.height_mm = nut->height_mm;
        take_source(sunk, nut->source);
        return true;
    }
    const trade::Head* head = trade::find_head(sunk.designation, sunk.what);
    if (head == nullptr) return false;
    sunk.across_flats_mm = head->width_mm;
    sunk.height_mm = head->height_mm;
    take_source(sunk, head->source);
    return true;
}

/// A cap screw is turned by a key inside its head; a hexagon by a socket, whose drive end is wider than a
/// small socket itself, or by a ring spanner, which has none.
bool take_tool(SunkFastener& sunk, bool is_ring) {
    if (sunk.what == "cap screw") {
        sunk.tool = "hexagon key";
        sunk.tool_outside_mm = sunk.across_flats_mm;
        return true;
    }
    sunk.tool = is_ring ? "ring spanner" : "hand socket";
    const trade::ToolRoom* room = trade::find_tool_room(sunk.across_flats_mm, sunk.tool);
    if (room == nullptr) return false;
    sunk.tool_outside_mm = room->outside_mm;
    take_source(sunk, room->source);
    if (!is_ring && sunk.across_flats_mm <= trade::drive_end_governs_to_mm) {
        sunk.tool_outside_mm = std::max(sunk.tool_outside_mm, trade::drive_end_outside_mm);
    }
    return true;
}

bool take_washer(SunkFastener& sunk) {
    const trade::Washer* washer = trade::find_washer(sunk.designation);
    if (washer == nullptr) return false;
    sunk.washer_outside_mm = washer->outside_mm;
    sunk.washer_thickness_mm = washer->thickness_mm;
    take_source(sunk, washer->source);
    return true;
}

/// What sinks into the recess. Whatever the tables lack is a fault only where a size hangs on it (`field`).
std::optional<SunkFastener> read_sunk(Reader& reader, const Field& field, const plan::Hole& hole) {
    const bool is_auto = !reader.length_mm(field["diameter"]);
    const bool is_flush = !reader.length_mm(field["depth"]);
    const Field unsized = field[is_auto ? "diameter" : "depth"];
    SunkFastener sunk;
    sunk.what = reader.text_or(field["for"], "");
    sunk.designation = hole.fastener->designation;
    const std::string of_size = " of size " + sunk.designation;
    if (!take_body(sunk)) {
        if (is_auto || is_flush)
            reader.wrong(unsized, "a length", "the tables have no " + sunk.what + of_size);
        return {};
    }
    const bool is_ring = reader.text_or(field["tool"], "socket") == "ring";
    if (!take_tool(sunk, is_ring) && is_auto) {
        reader.wrong(field["diameter"], "a length", "the tables have no " + sunk.tool + " that large");
    }
    if (reader.text_or(field["washer"], "standard") == "standard" && !take_washer(sunk)) {
        reader.wrong(field["washer"], "none", "the tables have no washer" + of_size);
    }
    return sunk;
}

double auto_diameter_mm(const SunkFastener& sunk) {
    const double widest_mm = std::max(sunk.tool_outside_mm, sunk.washer_outside_mm);
    return std::ceil(widest_mm + room_round_tool_mm - rounding_mm);
}

/// Without a known fastener, only lengths say how large the recess is.
void check_plain(Reader& reader, const Field& field, const plan::Hole& hole) {
    if (field["for"] && hole.kind == plan::HoleKind::clearance)
        return;  // its bolt is unknown: a fault already
    const std::string advice = field["for"] ? "only a clearance hole says which size of " +
                                                  reader.text_or(field["for"], "") + " it is for"
                                            : "without \"for\" nothing says how large it must be";
    if (!reader.length_mm(field["diameter"])) reader.wrong(field["diameter"], "a length", advice);
    if (!reader.length_mm(field["depth"])) reader.wrong(field["depth"], "a length", advice);
}

}  // namespace

plan::Recess read_recess(Reader& reader, const Field& field, const plan::Hole& hole) {
    plan::Recess recess;
    recess.side = reader.side_or(field["side"], hole.from);
    if (field["for"] && hole.fastener) {
        recess.holds = read_sunk(reader, field, hole);
    } else {
        check_plain(reader, field, hole);
    }
    const SunkFastener sunk = recess.holds.value_or(SunkFastener{});
    recess.diameter_mm = reader.length_mm_or(field["diameter"], auto_diameter_mm(sunk));
    recess.depth_mm = reader.length_mm_or(field["depth"], sunk.height_mm + sunk.washer_thickness_mm);
    return recess;
}

plan::Countersink read_countersink(Reader& reader, const Field& field, const plan::Hole& hole) {
    return {reader.side_or(field["side"], hole.from), reader.length_mm_or(field["diameter"], 0.0),
            reader.angle_or(field["angle"], Angle::from_degrees(90.0))};
}

double depth_mm(const plan::Countersink& countersink, double hole_diameter_mm) {
    const Angle half = countersink.angle * 0.5;
    return (countersink.diameter_mm - hole_diameter_mm) / 2.0 / half.tan();
}

}  // namespace fitup::parts
