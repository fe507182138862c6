#pragma once

#include <optional>
#include <string>

namespace fitup::plan {

/// What goes into the holes of a pattern, as far as the file says more than the holes do.
struct PatternFastener {
    std::string pattern;
    std::string
        kind;  ///< "stud", "hex bolt", "cap screw", "bolt and nut", "jack screw", "none"; "": as usual
    /// How far it goes into or through the casting, from the face that meets the plate.
    std::optional<double> reach_mm;
};

}  // namespace fitup::plan
