#include "plan/arm_stress.hpp"

#include <algorithm>
#include <cmath>

namespace fitup::plan {

double curved_bar_stress_mpa(double moment_n_mm, double pull_n, double width_mm, double thickness_mm,
                             double inside_radius_mm) {
    const double area_mm2 = width_mm * thickness_mm;
    const double neutral_mm = thickness_mm / std::log1p(thickness_mm / inside_radius_mm);
    const double eccentricity_mm = inside_radius_mm + thickness_mm / 2.0 - neutral_mm;
    return pull_n / area_mm2 +
           moment_n_mm * (neutral_mm - inside_radius_mm) / (area_mm2 * eccentricity_mm * inside_radius_mm);
}

double torsion_stress_mpa(double torque_n_mm, double width_mm, double thickness_mm) {
    const double long_mm = std::max(width_mm, thickness_mm);
    const double short_mm = std::min(width_mm, thickness_mm);
    return torque_n_mm / (long_mm * short_mm * short_mm) * (3.0 + 1.8 * short_mm / long_mm);
}

std::optional<JoggleStress> joggle_stress(const Plan& plan) {
    if (!plan.arm || !plan.arm->rod_force_n || !plan.body.joggle) return std::nullopt;
    const Joggle& joggle = *plan.body.joggle;
    const double force_n = *plan.arm->rod_force_n;
    const double width_mm = plan.arm->strip_width_mm;
    const double thickness_mm = plan.body.thickness_mm;
    const double twist_n_mm = force_n * std::abs(joggle.rise_mm);
    const double lever_mm = plan.arm->length_mm - joggle.start_mm;
    const double bending_mpa = 6.0 * force_n * lever_mm / (thickness_mm * width_mm * width_mm);
    const double shear_mpa = torsion_stress_mpa(twist_n_mm, width_mm, thickness_mm);
    return JoggleStress{
        std::sqrt(bending_mpa * bending_mpa + 3.0 * shear_mpa * shear_mpa),
        curved_bar_stress_mpa(twist_n_mm, force_n, width_mm, thickness_mm, joggle.inside_radius_mm)};
}

}  // namespace fitup::plan
