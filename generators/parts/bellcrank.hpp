#pragma once

#include <optional>
#include <string>
#include <vector>

#include "parts/kinds.hpp"
#include "parts/reading.hpp"
#include "plan/plan.hpp"

/// The bellcrank's parameters, typed: every name looked up, every length in mm, nothing compared yet.
namespace fitup::parts {

/// A boss about an axis along Z: the hub or an eye.
struct BossParameters {
    Field field;
    double diameter_mm = 0.0;
    double low_mm = 0.0;  ///< z of its underside
    double height_mm = 0.0;
};

struct ExtraHole {
    Field field;
    double at_mm = 0.0;  ///< along the arm
    plan::Hole hole;
};

struct CrankArmParameters {
    Field field;
    std::string name;
    double length_mm = 0.0;
    Angle angle;
    BossParameters eye;
    plan::Hole hole;
    std::vector<ExtraHole> extra_holes;
    std::optional<ExtraHole> lightening;
};

struct RigPin {
    plan::Point at_mm;
    double diameter_mm = 0.0;
};

struct Bellcrank {
    plan::Plan header;
    double thickness_mm = 0.0;
    BossParameters hub;
    plan::Hole pivot;
    std::vector<CrankArmParameters> arms;
    double inner_radius_mm = 0.0;
    std::optional<RigPin> rig_pin;
};

Bellcrank read_bellcrank(Reader& reader);

/// Plans a bellcrank. Shapes that do not exist are faults.
Planned plan_bellcrank(const parameters::Document& document);

/// Ratio of the arms, moment of inertia about the pivot, bearing areas.
plan::Work bellcrank_work(const plan::Plan& plan);

}  // namespace fitup::parts
