#pragma once

#include <string>
#include <vector>

#include "calculations/convex.hpp"
#include "mesh/mesh.hpp"
#include "plan/swing.hpp"

/// What stands still beside a swinging lever, as convex pieces in a tree of balls.
namespace fitup::calculations {

/// A ball that holds all pieces below it; a leaf holds one piece.
struct BallNode {
    Vector middle{};
    double reach_mm = 0.0;
    int first = -1, second = -1;  ///< nodes; -1 in a leaf
    int piece = -1;               ///< index into `pieces`; -1 above the leaves
};

struct ObstacleShape {
    std::string name;
    std::vector<Convex> pieces;
    std::vector<BallNode> nodes;  ///< the first is the root
    /// How far the pieces may be from the true surface (a STEP file's triangles); 0 where they are exact.
    double within_mm = 0.0;
    /// Triangles that enclose a body: what lies wholly inside touches none of them.
    bool is_shell = false;
};

ObstacleShape shape_of(const std::string& name, const plan::RoundBar& bar);
ObstacleShape shape_of(const std::string& name, const plan::Block& block);
/// @param within_mm  how far the triangles may be from the body's surface
ObstacleShape shape_of(const std::string& name, const mesh::Mesh& mesh, double within_mm);

/// Whether a point lies inside a shell, by the solid angle of its triangles (van Oosterom and Strackee 1983).
bool is_inside(const ObstacleShape& shell, const Vector& point);

}  // namespace fitup::calculations
