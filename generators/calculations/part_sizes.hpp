#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/angle.hpp"
#include "parameters/fault.hpp"

/// What a linkage takes from a part's own file, so that the two can't differ.
namespace fitup::calculations {

/// A lever's arm as its part has it.
struct ArmSize {
    std::string name;  ///< of a crank's arm; "" for an offset arm
    std::string key;   ///< where the length stands in the part's file: "length", "arms[0].length"
    double length_mm = 0.0;
    Angle angle;
    double offset_mm = 0.0;  ///< middle of the eye along the axis, from the middle of the arm at the pivot
};

/// A rod from pin to pin as its part has it.
struct RodSize {
    double set_mm = 0.0;
    double least_mm = 0.0;
    double most_mm = 0.0;
};

struct PartSizes {
    std::string kind;
    std::vector<ArmSize> arms;   ///< of a bellcrank or an offset arm
    std::optional<RodSize> rod;  ///< of a threaded rod
};

/// Reads a part's file for its sizes; its own faults where it is wrong. @throws FileError
struct ReadPart {
    PartSizes sizes;
    parameters::Faults faults;
};
ReadPart read_part_sizes(const std::string& path);

}  // namespace fitup::calculations
