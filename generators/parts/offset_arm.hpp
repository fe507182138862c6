#pragma once

#include <optional>
#include <vector>

#include "parts/kinds.hpp"
#include "parts/reading.hpp"
#include "plan/plan.hpp"

/// The offset arm's parameters, typed: every name looked up, every length in mm, nothing compared yet.
namespace fitup::parts {

struct ArmBoss {
    Field field;
    double diameter_mm = 0.0;
    double height_mm = 0.0;
};

struct ArmClamp {
    Field field;
    double slit_mm = 0.0;
    std::optional<plan::Thread> bolt;
};

struct OffsetArm {
    plan::Plan header;
    double width_mm = 0.0;
    double thickness_mm = 0.0;
    double length_mm = 0.0;
    std::optional<plan::Joggle> joggle;  ///< none for a flat arm
    plan::Hole pivot;
    std::optional<ArmBoss> boss;
    std::optional<ArmClamp> clamp;
    plan::Hole eye;
    std::optional<double> rod_force_n;
};

OffsetArm read_offset_arm(Reader& reader);

/// Plans an offset arm. Shapes that do not exist are faults.
Planned plan_offset_arm(const parameters::Document& document);

/// Bend angle, developed and cut length, bend marks, springback, what another K factor would do, lug sizes,
/// stress.
plan::Work offset_arm_work(const plan::Plan& plan);

}  // namespace fitup::parts
