#include "trade/housings.hpp"

#include <algorithm>
#include <array>
#include <cmath>

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

/// In thousandths of an inch, by the pilot bore of the housing.
struct ReadingRow {
    double pilot_mm = 0.0;
    double reading_thou = 0.0;
};
constexpr std::array reading_rows{
    ReadingRow{266.7, 7.0},   ReadingRow{314.33, 8.0},  ReadingRow{361.95, 9.0},
    ReadingRow{409.58, 10.0}, ReadingRow{447.68, 11.0}, ReadingRow{511.18, 12.0},
    ReadingRow{584.2, 14.0},  ReadingRow{647.7, 16.0},  ReadingRow{787.4, 19.0},
};
constexpr double mm_per_thou = 0.0254;

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

double housing_reading_mm(double pilot_mm) {
    const auto nearest = std::min_element(
        reading_rows.begin(), reading_rows.end(), [pilot_mm](const ReadingRow& a, const ReadingRow& b) {
            return std::abs(a.pilot_mm - pilot_mm) < std::abs(b.pilot_mm - pilot_mm);
        });
    return nearest->reading_thou * mm_per_thou;
}

}  // namespace fitup::trade
