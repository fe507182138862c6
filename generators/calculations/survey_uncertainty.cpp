#include "calculations/survey_uncertainty.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace fitup::calculations {

namespace {

enum Row {
    caliper_150,
    caliper_300,
    caliper_1000,
    contact,
    scribed,
    angle,
    drilled,
    stud,
    tapped,
    trial,
    rows
};

constexpr std::array<DefaultUncertainty, rows> table{{
    {"a span up to 150 mm", 0.015, "calipers of 150 mm, +-0.03; trade and forum"},
    {"a span up to 300 mm", 0.025, "calipers of 300 mm, +-0.05; trade and forum"},
    {"a span up to 1 m, beyond it in proportion", 0.04,
     "calipers of 1 m, +-0.08; trade and forum; beyond 1 m common practice, no source"},
    {"one contact of an edge finder", 0.0071,
     "edge finder +-0.01 from memory, unverified, and scales +-0.01 of a builder's log, together"},
    {"a coordinate as scribed", 0.04, "scribed and punched, +-0.08; forum"},
    {"an angle (degrees)", 5.0 / 120.0, "bevel protractor, +-5 minutes; from memory, unverified"},
    {"a drilled hole adds", 0.01, "out of round +-0.02; common practice, no source"},
    {"a stud adds", 0.07, "a lean of 0.2 degrees over 40 mm, 0.14 mm; worked out"},
    {"a screw in a thread adds", 0.1,
     "a loose screw adds up to 0.3 mm, taken as three standard deviations; from memory, unverified"},
    {"a place found by a trial", 0.1, "offsets pencilled at the hole, +-0.2; common practice, no source"},
}};

double sigma_of(Row row) { return table[row].sigma; }

}  // namespace

std::span<const DefaultUncertainty> default_uncertainties() { return table; }

double scribed_sigma_mm() { return sigma_of(scribed); }
double contact_sigma_mm() { return sigma_of(contact); }
double angle_sigma_deg() { return sigma_of(angle); }
double trial_sigma_mm() { return sigma_of(trial); }

double caliper_sigma_mm(double measured_mm) {
    if (measured_mm <= 150.0) return sigma_of(caliper_150);
    if (measured_mm <= 300.0) return sigma_of(caliper_300);
    return sigma_of(caliper_1000) * std::max(1.0, measured_mm / 1000.0);
}

double kind_sigma_mm(std::string_view kind) {
    if (kind == "drilled") return sigma_of(drilled);
    if (kind == "stud") return sigma_of(stud);
    if (kind == "tapped") return sigma_of(tapped);
    return 0.0;
}

}  // namespace fitup::calculations
