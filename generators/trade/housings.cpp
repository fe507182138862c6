#include "trade/housings.hpp"

#include "trade/names.hpp"
#include "trade/table.hpp"

namespace fitup::trade {

namespace {

Housing read_housing(const Row& row) {
    Housing housing;
    housing.designation = row.text("designation");
    housing.pilot_least_mm = row.number("pilot_bore_min_mm");
    housing.pilot_most_mm = row.number("pilot_bore_max_mm");
    housing.bolt_circle_mm = row.number("bolt_circle_mm");
    housing.hole_count = static_cast<int>(row.number("hole_count"));
    housing.thread_inch = row.text("thread");
    housing.thread_metric = row.text("thread_metric");
    housing.flange_outside_mm = row.number("flange_od_mm");
    housing.first_hole_from_vertical_deg = row.number("first_hole_angle_deg");
    housing.face_depth_mm = row.number("face_depth_mm");
    housing.source = row.source();
    return housing;
}

Flywheel read_flywheel(const Row& row) {
    return {row.text("designation"),
            row.number("pilot_diameter_mm"),
            row.number("bolt_circle_mm"),
            static_cast<int>(row.number("hole_count")),
            row.text("thread"),
            row.number("recess_depth_mm"),
            row.number("pilot_bearing_bore_mm"),
            row.source()};
}

/// "SAE No. 4", "SAE #4", "No 4" -> "4".
std::string housing_key(std::string_view name) {
    std::string key = name_key(name);
    if (key.starts_with("sae")) key = name_key(key.substr(3));
    if (key.starts_with("#")) key.erase(0, 1);
    return key;
}

}  // namespace

std::span<const Housing> housings() {
    static const std::vector<Housing> rows = read_rows("housings", read_housing);
    return rows;
}

const Housing* find_housing(std::string_view name) {
    const std::string key = housing_key(name);
    for (const Housing& housing : housings()) {
        if (housing.designation == key) return &housing;
    }
    return nullptr;
}

std::vector<std::string> housing_names() {
    std::vector<std::string> names;
    for (const Housing& housing : housings()) names.push_back("SAE " + housing.designation);
    return names;
}

std::span<const Flywheel> flywheels() {
    static const std::vector<Flywheel> rows = read_rows("flywheels", read_flywheel);
    return rows;
}

}  // namespace fitup::trade
