#pragma once

#include <optional>
#include <string>

#include "plan/plan.hpp"

namespace fitup::plan {

/// How far a bend opens again when it is let go; only a test strip tells.
struct Springback {
    Angle least;
    Angle most;
    std::string source;
};

/// Least: the textbook's elastic closed form r_i / r_f = 4 q^3 - 3 q + 1, q = r_i yield / (E t). Most: what
/// the trade sees in a 90 degree bend, in proportion, where it has a figure for the family (else the closed
/// form alone). Nothing without Young's modulus, yield or such a figure. Source: Kalpakjian, Manufacturing
/// Engineering and Technology, springback in bending; trade guides.
std::optional<Springback> springback(const Material& material, double inside_radius_mm, double thickness_mm,
                                     Angle bend);

}  // namespace fitup::plan
