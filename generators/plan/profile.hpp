#pragma once

#include <array>
#include <string>
#include <vector>

#include "plan/contour.hpp"

/// A part's side, or its flat blank, as flat curves by operation: what a profile file holds.
namespace fitup::plan {

struct ProfileCurve {
    std::string layer;  ///< the operation, capitals and underscores: "OUTLINE", "TAP_DRILL"
    Contour curve;
};

struct ProfileLine {
    std::string layer;  ///< "BEND"
    std::array<Point, 2> ends;
};

/// Lengths in mm, X to the right and Y up as the side lies on the table.
struct Profile {
    std::string suffix;  ///< of the file's name: "-A", "-B", "-flat"
    std::vector<ProfileCurve> curves;
    std::vector<ProfileLine> lines;
};

}  // namespace fitup::plan
