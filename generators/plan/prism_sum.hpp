#pragma once

#include <optional>
#include <vector>

#include "plan/plan.hpp"

namespace fitup::plan {

/// Metal added (positive height) or taken away (negative) over a plane area.
struct Prism {
    Area area;
    double height_mm = 0.0;
};

/// A slab with its raised rings and cuts as a sum of prisms: another way to its volume than the skin's, which
/// also serves rings that touch the outline from the inside.
/// @returns nothing where a cone, two cuts that meet in the plan view or a cut across an edge leave no such
/// sum.
std::optional<std::vector<Prism>> prism_sum(const Plan& plan);

double volume_mm3(const std::vector<Prism>& prisms);
/// Second moment of the volume about the Z axis, in mm5: times the density it is the moment of inertia.
double axial_moment_mm5(const std::vector<Prism>& prisms);

}  // namespace fitup::plan
