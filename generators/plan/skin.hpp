#pragma once

#include <optional>
#include <string>
#include <vector>

#include "plan/cuts.hpp"
#include "plan/plan.hpp"

/// The boundary of a part made of prisms, worked out without a kernel.
///
/// All contours of the plan that are apart from or nested in each other form a tree. Between a contour and
/// those directly inside it lies a region with the same metal at every point: a list of columns. Walls stand
/// on contours where metal is on one side only; floors are the flat ends of columns, joined across contours
/// on which no wall stands.
namespace fitup::plan {

/// A vertical face on contour `contour` from z_low to z_high.
struct Wall {
    std::size_t contour = 0;
    double z_low_mm = 0.0;
    double z_high_mm = 0.0;
    bool metal_inside = false;  ///< false: the wall of a hole or pocket
    std::string name;           ///< id of the hole, pocket, raised ring, or "outline"
};

/// A flat face at height z; loop 0 bounds it, the others are cut out of it. Loops are contours.
struct Floor {
    double z_mm = 0.0;
    bool faces_up = false;  ///< outward normal +Z
    std::size_t outer = 0;
    std::vector<std::size_t> inner;
    std::string name;  ///< id of the hole or pocket whose floor it is, or "face A", "face B", or id of the
                       ///< raised ring
};

/// A sloped face between contour `outer` at z_outer and contour `inner` at z_inner; without `inner` a cone to
/// its tip on the axis. Drill points, countersinks, modelled edge breaks.
struct Slope {
    std::size_t outer = 0;
    std::optional<std::size_t> inner;
    double z_outer_mm = 0.0;
    double z_inner_mm = 0.0;
    bool faces_up = false;
    std::string name;
};

/// A ring along which four faces meet: metal touches metal along an edge only, which no solid can have.
struct EdgeContact {
    std::size_t contour = 0;
    double z_mm = 0.0;
};

struct Skin {
    std::vector<Contour> contours;
    std::vector<Wall> walls;
    std::vector<Floor> floors;
    std::vector<Slope> slopes;
    double volume_mm3 = 0.0;  ///< closed form
    double area_mm2 = 0.0;    ///< closed form
    Box box;
    /// Number of separate pieces of metal: 1 for a sound part, 0 when nothing is left.
    int pieces = 0;
    /// Metal touches metal along an edge only: no solid can be made. Pieces that meet so alone count as
    /// separate.
    bool touches_itself = false;
    std::vector<EdgeContact> edge_contacts;  ///< where it touches itself
};

/// A plan's skin, and the cuts that could not be part of it since they cross others (or the outline).
///
/// The whole part is skin + overlapping_raised - overlapping, in this order: every cut that would open
/// through a raised ring of `overlapping_raised` is in `overlapping` too. Cuts leave one by one: of a hole
/// perhaps the recess alone, but never the shaft without the rest.
struct SkinResult {
    /// The skin of the plan without `overlapping`.
    Skin skin;
    /// Cuts to be taken from the skin's solid by one boolean; empty for most parts.
    std::vector<Cut> overlapping;
    /// Metal standing on a face that could not be part of the skin: a spigot whose ring crosses the outline
    /// or another ring. (Cuts that cross a ring are in `overlapping`.)
    std::vector<Raised> overlapping_raised;
    /// Closed-form volume of the whole part, where one exists: overlapping cuts that meet nothing in space,
    /// enter through one plain face and stay inside count too. Nothing otherwise.
    std::optional<double> volume_mm3;
    /// The outline's edges could not be broken as asked: an arc is smaller than the break, an inner corner is
    /// sharp, or the plate too thin. The skin has square edges then.
    bool edge_break_left_out = false;
};

/// Works for any plan with finite numbers, sound or not; nothing is thrown for a part that can't be made.
/// Cost: about n log n in the number of contours; 600 holes take a few ms.
SkinResult skin(const Plan& plan);

}  // namespace fitup::plan
