#pragma once

#include <optional>
#include <string>

#include "plan/plan.hpp"

/// Diameters of a plate and of what bolts to it that locate each other.
namespace fitup::plan {

struct SizeRange {
    double least_mm = 0.0;
    double most_mm = 0.0;
};

struct Mating {
    std::string where;  ///< "register-A", "bore"
    SizeRange inside;   ///< of the part that enters
    SizeRange outside;  ///< of the part around it
    bool plate_enters = false;
};

/// Nothing where the other part's diameter is not known.
std::optional<Mating> mating_of(const Register& reg);
std::optional<Mating> mating_of(const Hole& hole);

/// Limits of a diameter within its fit; the diameter itself without one.
SizeRange limits_of(double diameter_mm, const std::optional<Fit>& fit);

/// On the diameter; under 0: interference.
SizeRange clearance_of(const Mating& mating);

}  // namespace fitup::plan
