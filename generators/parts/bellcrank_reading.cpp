#include <algorithm>
#include <array>

#include "parts/bellcrank.hpp"
#include "parts/common_header.hpp"
#include "parts/eye.hpp"
#include "parts/swing_reading.hpp"

namespace fitup::parts {

namespace {

/// Radius of the inner corners where the file gives none: a common end mill's, 12 mm.
constexpr double usual_inner_radius_mm = 6.0;

BossParameters read_eye_boss(const Reader& reader, const Field& field, double thickness_mm) {
    return {field, reader.length_mm_or(field["diameter"], 0.0), reader.length_mm_or(field["from"], 0.0),
            reader.length_mm_or(field["height"], thickness_mm)};
}

ExtraHole read_extra_hole(const Reader& reader, const Field& field, const plan::Hole& eye) {
    return {field, reader.length_mm(field["at"]).value_or(reader.length_mm_or(field, 0.0)),
            like_eye(eye, reader.length_mm(field["bore"]))};
}

ExtraHole read_lightening(const Reader& reader, const Field& field) {
    ExtraHole lightening{field, reader.length_mm_or(field["at"], 0.0), {}};
    lightening.hole.diameter_mm = reader.length_mm_or(field["diameter"], 0.0);
    return lightening;
}

CrankArmParameters read_arm(Reader& reader, const Field& field, double thickness_mm) {
    CrankArmParameters arm;
    arm.field = field;
    arm.name = reader.text_or(field["name"], "");
    arm.length_mm = reader.length_mm_or(field["length"], 0.0);
    arm.angle = reader.angle_or(field["angle"], {});
    arm.eye = read_eye_boss(reader, field["eye"], thickness_mm);
    arm.hole = read_eye(reader, field["eye"]);
    const Field extra = field["extra_holes"];
    for (std::size_t i = 0; i < extra.size(); ++i)
        arm.extra_holes.push_back(read_extra_hole(reader, extra.item(i), arm.hole));
    if (field["lightening"]) arm.lightening = read_lightening(reader, field["lightening"]);
    return arm;
}

void check_arm_names(Reader& reader, const std::vector<CrankArmParameters>& arms) {
    constexpr std::array taken{"pivot", "rig-pin"};
    for (auto arm = arms.begin(); arm != arms.end(); ++arm) {
        const bool is_double = std::any_of(
            arms.begin(), arm, [&](const CrankArmParameters& other) { return other.name == arm->name; });
        const bool is_taken = std::find(taken.begin(), taken.end(), arm->name) != taken.end();
        if (is_double || is_taken)
            reader.wrong(arm->field["name"], "a name that nothing else of the crank has");
    }
}

}  // namespace

Bellcrank read_bellcrank(Reader& reader) {
    const Field root = reader.root();
    const Field pivot = root["pivot"];
    Bellcrank crank;
    read_common_header(reader, crank.header);
    crank.thickness_mm = reader.length_mm_or(root["thickness"], 0.0);
    crank.hub = {pivot, reader.length_mm_or(pivot["hub_diameter"], 0.0),
                 reader.length_mm_or(pivot["hub_from"], 0.0),
                 reader.length_mm_or(pivot["hub_height"], crank.thickness_mm)};
    crank.pivot.kind = plan::HoleKind::bore;
    crank.pivot.diameter_mm = reader.length_mm_or(pivot["bore"], 0.0);
    crank.pivot.fit = read_fit(reader, pivot["fit"], crank.pivot.diameter_mm, FitOf::hole);
    crank.pivot.bush_fit = read_fit(reader, pivot["bush_fit"], crank.pivot.diameter_mm, FitOf::shaft);
    for (std::size_t i = 0; i < root["arms"].size(); ++i)
        crank.arms.push_back(read_arm(reader, root["arms"].item(i), crank.thickness_mm));
    check_arm_names(reader, crank.arms);
    crank.inner_radius_mm = reader.length_mm_or(root["web"]["inner_radius"], usual_inner_radius_mm);
    crank.header.swing = read_swing(reader);
    if (const Field pin = root["rig_pin"])
        crank.rig_pin = RigPin{reader.point_or(pin["at"], {}), reader.length_mm_or(pin["diameter"], 0.0)};
    return crank;
}

}  // namespace fitup::parts
