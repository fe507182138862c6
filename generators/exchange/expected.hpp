#pragma once

#include <string>
#include <vector>

#include "exchange/metal.hpp"

/// What a plan leads one to find in a file: round walls and cones, from its holes, pockets and rings alone.
namespace fitup::exchange {

/// A round wall about an axis along Z, whole or in part, as a file shows it once the faces on one circle
/// that touch are joined.
struct ExpectedWall {
    std::string id;  ///< of the hole, pocket or ring; of two holes that share a wall both, "a, b"
    plan::Point centre;
    double radius_mm = 0.0;
    double low_mm = 0.0;
    double high_mm = 0.0;
    bool is_hole = true;   ///< metal outside; else a ring's outside
    bool is_full = true;   ///< goes all the way round at every height
    bool is_level = true;  ///< ends square, so that its range is known
    /// A whole circle, alike all round, that is one item's: also a mesh shows it as one run of facets.
    bool is_plain = true;
};

/// Every wall of a hole, of a pocket, in a ring, and round a ring.
/// Cost: about linear in holes; 600 take some ms.
std::vector<ExpectedWall> expected_walls(const plan::Plan& plan, const Metal& metal);

/// A drill point or countersink, or what other cuts leave of it.
struct ExpectedCone {
    std::string id;
    bool is_point = false;
    plan::Point centre;
    double low_mm = 0.0;
    double high_mm = 0.0;
    double radius_low_mm = 0.0;  ///< at `low_mm`
    double radius_high_mm = 0.0;
    bool is_crossed = false;  ///< another cut takes one side of it: only axis and slope are known
};

/// Cost as above.
std::vector<ExpectedCone> expected_cones(const plan::Plan& plan, const Metal& metal);

}  // namespace fitup::exchange
