#include "base/text.hpp"
#include "parts/adapter_plate.hpp"
#include "parts/common_header.hpp"
#include "parts/recess.hpp"
#include "trade/trade.hpp"

namespace fitup::parts {

namespace {

using plan::Side;

/// Included angle of a drill's point where the file states none. Common practice, no source.
constexpr Angle usual_point = Angle::from_degrees(118.0);

/// How much a pilot is under the reamed size, at least: settled in the file format.
constexpr double pilot_under_mm = 0.3;

void read_clearance(Reader& reader, const Field& field, plan::Hole& hole) {
    hole.kind = plan::HoleKind::clearance;
    const auto bolt = reader.text(field["for"]);
    if (!bolt) return;
    const std::string fit = reader.text_or(field["fit"], "normal");
    if (const auto* row = trade::find_clearance_hole(*bolt, fit)) {
        hole.diameter_mm = row->diameter_mm;
        const trade::Thread* thread = trade::find_thread(*bolt);
        // The thread's own name keeps a Whitworth bolt apart from a unified one of the same size: their nuts
        // differ.
        hole.fastener =
            plan::Fastener{thread != nullptr ? thread->designation : row->designation, row->nominal_mm};
    } else if (trade::find_clearance_hole(*bolt, "normal") != nullptr) {
        reader.wrong(field["fit"], "a fit that the table has for " + *bolt, "normal is one");
    } else {
        reader.unknown_name(field["for"], "a bolt of the table (`fitup lookup clearance-holes`)",
                            trade::names_in("clearance-holes"));
    }
}

void read_tapped(Reader& reader, const Field& field, HoleParameters& parameters) {
    plan::Hole& hole = parameters.hole;
    hole.kind = plan::HoleKind::tapped;
    parameters.drill_depth_mm = reader.length_mm(field["drill_depth"]);
    parameters.is_drilled_through = reader.text_or(field["drill_depth"], "") == "through";
    hole.thread = read_thread(reader, field["thread"], field["hand"]);
    if (!hole.thread) return;
    hole.diameter_mm = modelled_diameter_mm(reader, field["model_as"], *hole.thread);
}

/// A hole reamed at assembly is modelled at its pilot.
void read_pilot(Reader& reader, const Field& field, plan::Hole& hole) {
    const double finished_mm = hole.diameter_mm;
    const bool is_inch = reader.units() == plan::Units::in;
    const trade::Drill* drill = trade::largest_drill_up_to(finished_mm - pilot_under_mm, is_inch);
    const double drilled_mm = drill != nullptr ? drill->diameter_mm : 0.0;
    const double pilot_mm = reader.length_mm_or(field["pilot"], drilled_mm);
    if (field["pilot"] && pilot_mm >= finished_mm) {
        reader.wrong(field["pilot"], "less than the finished diameter, " + reader.length_text(finished_mm));
    } else if (pilot_mm <= 0.0) {
        reader.wrong(field["pilot"], "a diameter", "no drill of the table is small enough");
    }
    hole.finish_diameter_mm = finished_mm;
    hole.diameter_mm = pilot_mm;
}

void read_dowel_slot(Reader& reader, const Field& slot, HoleParameters& parameters) {
    SlotParameters result{slot, reader.length_mm_or(slot["length"], 0.0), reader.text(slot["toward"]),
                          reader.angle_or(slot["direction"], {})};
    if (slot["length"] && result.length_mm <= parameters.hole.diameter_mm) {
        reader.wrong(slot["length"],
                     "more than its width, " + reader.length_text(parameters.hole.diameter_mm));
    }
    parameters.slot = result;
}

void read_dowel(Reader& reader, const Field& field, HoleParameters& parameters) {
    plan::Hole& hole = parameters.hole;
    hole.kind = plan::HoleKind::dowel;
    hole.diameter_mm = reader.length_mm_or(field["diameter"], 0.0);
    hole.fit = read_fit(reader, field["fit"], hole.diameter_mm, FitOf::hole);
    if (field["slot"]) read_dowel_slot(reader, field["slot"], parameters);
    if (field["finish"] && hole.diameter_mm > 0.0) read_pilot(reader, field, hole);
}

/// A slot is milled, so its bottom is flat unless stated otherwise.
std::optional<Angle> read_point(const Reader& reader, const Field& field) {
    if (reader.text_or(field["point"], "") == "flat") return {};
    if (!field["point"] && field["slot"]) return {};
    return reader.angle_or(field["point"], usual_point);
}

}  // namespace

HoleParameters read_hole(Reader& reader, const Field& field) {
    HoleParameters parameters;
    parameters.field = field;
    plan::Hole& hole = parameters.hole;
    hole.from = reader.side_or(field["from"], Side::B);
    parameters.depth_mm = reader.length_mm(field["depth"]);
    parameters.point_angle = read_point(reader, field);
    const std::string kind = reader.text_or(field["kind"], "");
    if (kind == "clearance") read_clearance(reader, field, hole);
    if (kind == "tapped") read_tapped(reader, field, parameters);
    if (kind == "dowel") read_dowel(reader, field, parameters);
    if (kind == "drilled") hole.diameter_mm = reader.length_mm_or(field["diameter"], 0.0);
    if (field["recess"]) hole.recess = read_recess(reader, field["recess"], hole);
    if (field["countersink"]) hole.countersink = read_countersink(reader, field["countersink"], hole);
    return parameters;
}

}  // namespace fitup::parts
