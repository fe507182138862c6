
#include "parts/adapter_plate.hpp"
#include "parts/common_header.hpp"
#include "parts/plate_results.hpp"

namespace fitup::parts {

namespace {

using plan::Side;

RectangleOutline read_rectangle(const Reader& reader, const Field& field) {
    return {reader.length_mm_or(field["width"], 0.0), reader.length_mm_or(field["height"], 0.0),
            reader.length_mm_or(field["corner_radius"], 0.0)};
}

PolygonOutline read_polygon(const Reader& reader, const Field& field) {
    return {reader.points(field["points"]), reader.length_mm_or(field["corner_radius"], 0.0)};
}

Outline read_outline(const Reader& reader, const Field& field) {
    if (field["rectangle"]) return read_rectangle(reader, field["rectangle"]);
    if (field["polygon"]) return read_polygon(reader, field["polygon"]);
    if (field["around"]) return AroundOutline{reader.length_mm_or(field["around"]["margin"], 0.0)};
    return RoundOutline{reader.length_mm_or(field["round"]["diameter"], 0.0)};
}

std::optional<plan::Hole> read_bore(Reader& reader, const Field& field) {
    if (!field) return {};
    plan::Hole bore;
    bore.id = "bore";
    bore.kind = plan::HoleKind::bore;
    bore.locates_on_mm = reader.length_mm(field["locates_on"]);
    const double located_mm = bore.locates_on_mm.value_or(0.0) + reader.length_mm_or(field["clearance"], 0.0);
    bore.diameter_mm = reader.length_mm_or(field["diameter"], located_mm);
    bore.fit = read_fit(reader, field["fit"], bore.diameter_mm, FitOf::hole);
    return bore;
}

RegisterParameters read_register(Reader& reader, const Field& field) {
    RegisterParameters result{.field = field, .reg = {}, .bore_mm = reader.length_mm(field["bore"])};
    plan::Register& reg = result.reg;
    reg.side = reader.side_or(field["side"], Side::A);
    reg.is_spigot = reader.text_or(field["kind"], "") == "spigot";
    reg.diameter_mm = reader.length_mm_or(field["diameter"], 0.0);
    reg.length_mm = reader.length_mm_or(field[reg.is_spigot ? "height" : "depth"], 0.0);
    reg.mates_with_mm = reader.length_mm(field["mates_with"]);
    reg.fit = read_fit(reader, field["fit"], reg.diameter_mm, reg.is_spigot ? FitOf::shaft : FitOf::hole);
    return result;
}

/// The file's registers; the housing's spigot where the file has none on that side, and the housing's pilot
/// bore as what the file's own spigot there mates with.
std::vector<RegisterParameters> read_registers(Reader& reader, const Field& root) {
    std::vector<RegisterParameters> registers;
    for (std::size_t i = 0; i < root["registers"].size(); ++i) {
        registers.push_back(read_register(reader, root["registers"].item(i)));
    }
    const auto brought = housing_register(reader, root["housing"]);
    if (!brought) return registers;
    bool is_replaced = false;
    for (RegisterParameters& own : registers) {
        if (own.reg.side != brought->reg.side) continue;
        is_replaced = true;
        if (!own.reg.is_spigot || own.reg.mates_with_mm) continue;
        own.reg.mates_with_mm = brought->reg.mates_with_mm;
        own.reg.mates_most_mm = brought->reg.mates_most_mm;
    }
    if (!is_replaced) registers.insert(registers.begin(), *brought);
    return registers;
}

std::optional<HollowParameters> read_hollow(const Reader& reader, const Field& field) {
    if (!field) return {};
    HollowParameters hollow;
    hollow.field = field;
    hollow.side = reader.side_or(field["side"], Side::A);
    hollow.rim_mm = reader.length_mm_or(field["rim"], 0.0);
    hollow.depth_mm = reader.length_mm_or(field["depth"], 0.0);
    hollow.corner_radius_mm = reader.length_mm_or(field["corner_radius"], 0.0);
    hollow.around_holes_mm = reader.length_mm_or(field["around_holes"], 0.0);
    hollow.around_bore_mm = reader.length_mm_or(field["around_bore"], 0.0);
    return hollow;
}

decltype(ReliefParameters::shape) read_relief_shape(const Reader& reader, const Field& field) {
    const Field slot = field["slot"];
    const Field rectangle = field["rectangle"];
    const Field circle = field["circle"];
    if (slot) {
        return ReliefSlot{reader.point_or(slot["from"], {}), reader.point_or(slot["to"], {}),
                          reader.length_mm_or(slot["width"], 0.0)};
    }
    if (rectangle) {
        return ReliefRectangle{reader.point_or(rectangle["at"], {}), read_rectangle(reader, rectangle),
                               reader.angle_or(rectangle["angle"], {})};
    }
    if (field["polygon"]) return read_polygon(reader, field["polygon"]);
    return plan::Circle{reader.point_or(circle["at"], {}),
                        reader.length_mm_or(circle["diameter"], 0.0) / 2.0};
}

std::vector<ReliefParameters> read_reliefs(const Reader& reader, const Field& list) {
    std::vector<ReliefParameters> reliefs;
    for (std::size_t i = 0; i < list.size(); ++i) {
        const Field field = list.item(i);
        reliefs.push_back({field, reader.side_or(field["side"], Side::A), read_relief_shape(reader, field),
                           reader.length_mm(field["depth"])});
    }
    return reliefs;
}

std::vector<MarkParameters> read_marks(const Reader& reader, const Field& list) {
    std::vector<MarkParameters> marks;
    for (std::size_t i = 0; i < list.size(); ++i) {
        const Field field = list.item(i);
        marks.push_back({.field = field,
                         .text = reader.text_or(field["text"], ""),
                         .side = reader.side_or(field["side"], Side::A),
                         .at_mm = reader.point_or(field["at"], {}),
                         .height_mm = reader.length_mm_or(field["height"], 0.0),
                         .depth_mm = reader.length_mm_or(field["depth"], 0.0),
                         .angle = reader.angle_or(field["angle"], {})});
    }
    return marks;
}

void read_sides(Reader& reader, const Field& root, plan::Plan& header) {
    for (const Side side : {Side::A, Side::B}) {
        const std::size_t index = side == Side::A ? 0 : 1;
        header.side_names[index] = reader.text_or(root["sides"][plan::to_text(side)], "");
        header.side_materials[index] = read_material(reader, root["side_materials"][plan::to_text(side)]);
    }
}

void read_edge_break(const Reader& reader, const Field& field, AdapterPlate& plate) {
    plate.edge_break_mm = field["size"] ? reader.length_mm(field["size"]) : reader.length_mm(field);
    plate.edge_break_modelled = reader.truth_or(field["modelled"], false);
}

}  // namespace

AdapterPlate read_adapter_plate(Reader& reader) {
    const Field root = reader.root();
    AdapterPlate plate;
    read_common_header(reader, plate.header);
    read_sides(reader, root, plate.header);
    plate.thickness_mm = read_thickness(reader, root["thickness"], plate.thickness_from);
    plate.outline = read_outline(reader, root["outline"]);
    plate.bore = read_bore(reader, root["bore"]);
    plate.registers = read_registers(reader, root);
    plate.hollow = read_hollow(reader, root["hollow"]);
    plate.patterns = read_patterns(reader, root);
    plate.reliefs = read_reliefs(reader, root["reliefs"]);
    plate.marks = read_marks(reader, root["marks"]);
    read_edge_break(reader, root["edge_break"], plate);
    return plate;
}

}  // namespace fitup::parts
