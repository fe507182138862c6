#pragma once

#include <optional>

#include "plan/plan.hpp"

/// What a rod's force does to an offset arm.
namespace fitup::plan {

/// Greatest normal stress at the inside of a curved bar of rectangular section, bent so that it opens, with
/// the force that bends it pulling along the bar. Source: curved beams in bending (Winkler), Shigley,
/// Mechanical Engineering Design, section "Curved Beams in Bending": r_n = t / ln(r_o / r_i), sigma_i = M
/// (r_n - r_i) / (A e r_i), e = r - r_n.
double curved_bar_stress_mpa(double moment_n_mm, double pull_n, double width_mm, double thickness_mm,
                             double inside_radius_mm);

/// Shear stress of a rectangular bar under torque, at the middle of its long sides; within 4 % of the exact
/// series. Source: Shigley, Mechanical Engineering Design, closed rectangular section in torsion (after
/// Timoshenko): T / (w t^2) (3 + 1.8 t / w).
double torsion_stress_mpa(double torque_n_mm, double width_mm, double thickness_mm);

/// The two ways a rod can pull at the eye, each worked out where the first bend starts.
struct JoggleStress {
    /// Square to the arm: bent sideways (6 F a / (t w^2), a from the bend to the eye) and twisted by F x
    /// rise, joined as sqrt(sigma^2 + 3 tau^2) though they peak at different places: on the safe side.
    double across_mpa = 0.0;
    /// Along the arm: the joggle bent by F x rise, as a curved bar, and pulled.
    double along_mpa = 0.0;
    double worst_mpa() const { return across_mpa > along_mpa ? across_mpa : along_mpa; }
};

/// Nothing for what is no joggled arm, or without a stated force.
std::optional<JoggleStress> joggle_stress(const Plan& plan);

}  // namespace fitup::plan
