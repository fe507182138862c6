#pragma once

#include <array>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/angle.hpp"
#include "base/vector3.hpp"

/// What a lever must keep clear of while it swings about the Z axis.
namespace fitup::plan {

/// A round bar between the middles of its ends.
struct RoundBar {
    Vector from{}, to{};
    double diameter_mm = 0.0;
};

/// A block along the axes.
struct Block {
    Vector least{}, most{};
};

/// A body of a STEP file.
struct StepBody {
    std::string path;  ///< relative to the working folder
};

/// Stands still in the frame of the pivot.
struct Obstacle {
    std::string name;
    std::variant<RoundBar, Block, StepBody> shape;
};

struct Swing {
    Angle from, to;  ///< anticlockwise; 0 is as drawn
    std::vector<Obstacle> keep_clear;
    double clearance_mm = 0.0;  ///< the least that is wanted
};

}  // namespace fitup::plan
