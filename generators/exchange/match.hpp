#pragma once

#include "exchange/expected.hpp"
#include "exchange/measurement.hpp"

/// What was found laid beside what was expected.
namespace fitup::exchange {

struct Strictness {
    double within_mm = 0.0;
    bool is_mesh = false;  ///< a mesh shows only plain walls surely, and cones only beside them
};

/// A row for each expected wall, and one for each round hole too many.
std::vector<Row> wall_rows(const std::vector<ExpectedWall>& wanted, const Measurement& found,
                           const Strictness& strictness);

/// A row for each expected cone, and one for each cone too many about the axis of an expected hole.
std::vector<Row> cone_rows(const std::vector<ExpectedCone>& wanted, const std::vector<ExpectedWall>& walls,
                           const Measurement& found, const Strictness& strictness);

/// A candidate farther than this from where a hole should be is another hole, not the same one moved.
inline constexpr double farthest_move_mm = 10.0;
/// A round wall that goes all the way round; less is an arc of a slot, a pocket or a cut hole.
inline constexpr double full_turn_deg = 359.0;

/// Whether an axis found in a file runs along Z.
bool is_along_z(const plan::Point3& axis);

}  // namespace fitup::exchange
