#include "calculations/clocking_plate.hpp"

#include <algorithm>
#include <cmath>

#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

double* diameter_of(parts::Layout& layout) {
    if (auto* circle = std::get_if<parts::CircleLayout>(&layout.places)) return &circle->diameter_mm;
    if (auto* clock = std::get_if<parts::ClockLayout>(&layout.places)) return &clock->diameter_mm;
    return nullptr;
}

}  // namespace

ClockedPlate::ClockedPlate(std::shared_ptr<const parameters::Document> document, parts::AdapterPlate plate,
                           std::vector<std::size_t> turning)
    : document_(std::move(document)), plate_(std::move(plate)), turning_(std::move(turning)) {}

std::optional<plan::Plan> ClockedPlate::plan(const PlateChange& change) const {
    parts::AdapterPlate changed = plate_;
    for (const std::size_t i : turning_) {
        const double own_deg = change.turn_deg * sense_of(i) * sense();
        changed.patterns[i].layout.rotate = changed.patterns[i].layout.rotate + Angle::from_degrees(own_deg);
    }
    if (change.thickness_mm) changed.thickness_mm = *change.thickness_mm;
    if (change.circle_mm) {
        double* diameter_mm = diameter_of(changed.patterns[change.circle_mm->first].layout);
        if (diameter_mm != nullptr) *diameter_mm = change.circle_mm->second;
    }
    parts::Reader reader(*document_, parts::units_of(*document_));
    return std::move(parts::plan_of(reader, changed).plan);
}

bool ClockedPlate::turns(std::size_t pattern) const {
    return std::find(turning_.begin(), turning_.end(), pattern) != turning_.end();
}

double ClockedPlate::rotate_deg(std::size_t pattern, double turn_deg) const {
    const double own_deg = turn_deg * sense_of(pattern) * sense();
    const double degrees = std::fmod(plate_.patterns[pattern].layout.rotate.degrees() + own_deg, 360.0);
    return degrees < 0.0 ? degrees + 360.0 : degrees;
}

plan::Point ClockedPlate::centre_mm() const { return axis_of(turning_.front()); }
double ClockedPlate::sense() const { return sense_of(turning_.front()); }

bool ClockedPlate::has_common_axis(std::size_t pattern) const {
    return plan::distance_mm(axis_of(pattern), centre_mm()) < plan::same_point_mm;
}

std::string ClockedPlate::circle_key(std::size_t pattern) const {
    const parts::PatternParameters& one = plate_.patterns[pattern];
    const bool is_clock = std::holds_alternative<parts::ClockLayout>(one.layout.places);
    return "patterns." + one.name + (is_clock ? ".clock" : ".circle") + ".diameter";
}

std::optional<double> ClockedPlate::circle_diameter_mm(std::size_t pattern) const {
    const auto& places = plate_.patterns[pattern].layout.places;
    if (const auto* circle = std::get_if<parts::CircleLayout>(&places)) return circle->diameter_mm;
    if (const auto* clock = std::get_if<parts::ClockLayout>(&places)) return clock->diameter_mm;
    return {};
}

/// `rotate` turns about the bore, before `shift`; seen from A, X is mirrored.
plan::Point ClockedPlate::axis_of(std::size_t pattern) const {
    const plan::Point shift = plate_.patterns[pattern].layout.shift;
    return {sense_of(pattern) * shift.x_mm, shift.y_mm};
}

double ClockedPlate::sense_of(std::size_t pattern) const {
    return plate_.patterns[pattern].seen_from == plan::Side::A ? -1.0 : 1.0;
}

}  // namespace fitup::calculations
