#include "parts/plate_shape.hpp"

namespace fitup::parts {

namespace {

using plan::Circle;
using plan::Contour;

Contour circle_about_bore(double diameter_mm) { return Contour(Circle{plan::Point{}, diameter_mm / 2.0}); }

/// "register-A"; of several on one side the second is "register-A-2".
std::string register_id(plan::Side side, const plan::Plan& plan) {
    std::size_t before = 0;
    for (const plan::Register& reg : plan.registers) before += reg.side == side ? 1 : 0;
    const std::string id = std::string("register-") + plan::to_text(side);
    return before == 0 ? id : id + "-" + std::to_string(before + 1);
}

/// The spigot's ring leaves some metal and does not reach over the plate's bore.
void check_spigot(Reader& reader, const RegisterParameters& spigot, double bore_mm, double plate_bore_mm) {
    const Field& field = spigot.field;
    const std::string diameter = reader.length_text(spigot.reg.diameter_mm);
    if (bore_mm < plate_bore_mm) {
        reader.wrong(field["bore"], "at least the plate's bore, " + reader.length_text(plate_bore_mm));
    } else if (bore_mm < spigot.reg.diameter_mm) {
        return;
    } else if (field["bore"]) {
        reader.wrong(field["bore"], "less than the spigot's diameter, " + diameter);
    } else if (field["diameter"]) {
        reader.wrong(field["diameter"], "more than the plate's bore, " + reader.length_text(bore_mm));
    } else {
        reader.wrong_in_words(field, "its spigot of " + diameter +
                                         " leaves no ring round the plate's bore of " +
                                         reader.length_text(bore_mm));
    }
}

void add_spigot(Reader& reader, const RegisterParameters& spigot, double plate_bore_mm, plan::Plan& plan) {
    const double bore_mm = spigot.bore_mm.value_or(plate_bore_mm);
    check_spigot(reader, spigot, bore_mm, plate_bore_mm);
    plan::Raised ring{.id = register_id(spigot.reg.side, plan),
                      .side = spigot.reg.side,
                      .outer = circle_about_bore(spigot.reg.diameter_mm),
                      .inner = {},
                      .height_mm = spigot.reg.length_mm};
    if (bore_mm > 0.0) ring.inner.push_back(circle_about_bore(bore_mm));
    plan.raised.push_back(std::move(ring));
}

void add_recess(Reader& reader, const RegisterParameters& recess, const AdapterPlate& plate,
                double plate_bore_mm, plan::Plan& plan) {
    if (recess.reg.diameter_mm <= plate_bore_mm) {
        reader.wrong(recess.field["diameter"],
                     "more than the plate's bore, " + reader.length_text(plate_bore_mm));
    }
    if (recess.reg.length_mm >= plate.thickness_mm) {
        reader.wrong(recess.field["depth"],
                     "less than the thickness, " + reader.length_text(plate.thickness_mm));
    }
    plan.pockets.push_back({.id = register_id(recess.reg.side, plan),
                            .kind = plan::PocketKind::register_recess,
                            .side = recess.reg.side,
                            .areas = {{circle_about_bore(recess.reg.diameter_mm), {}}},
                            .depth_mm = recess.reg.length_mm,
                            .through = false,
                            .corner_radius_mm = {}});
}

}  // namespace

void add_registers(Reader& reader, const AdapterPlate& plate, plan::Plan& plan) {
    const double plate_bore_mm = plate.bore ? plate.bore->diameter_mm : 0.0;
    for (const RegisterParameters& parameters : plate.registers) {
        if (parameters.reg.is_spigot) {
            add_spigot(reader, parameters, plate_bore_mm, plan);
        } else {
            add_recess(reader, parameters, plate, plate_bore_mm, plan);
        }
        plan.registers.push_back(parameters.reg);
    }
}

}  // namespace fitup::parts
