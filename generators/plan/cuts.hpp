#pragma once

#include <optional>
#include <string>
#include <vector>

#include "plan/plan.hpp"

namespace fitup::plan {

/// What a cut is for; it decides what counts as "holes meeting" and what may open into what.
enum class CutRole { bore, hole, recess, countersink, point, pocket };

/// One simple piece of removed metal: a prism over `area` from z_low to z_high, or a cone.
///
/// A cut that reaches a face goes on beyond it for ever in the sense that metal standing on that face (a
/// spigot) above it is removed too; `opens_a` and `opens_b` say so.
struct Cut {
    std::string id;  ///< of the hole or pocket it belongs to
    CutRole role = CutRole::hole;
    std::size_t owner = 0;  ///< index into Plan::holes or, for role pocket, Plan::pockets
    Area area;              ///< of a cone: its wide end, a circle
    double z_low_mm = 0.0;
    double z_high_mm = 0.0;
    bool opens_a = false;
    bool opens_b = false;
    /// A cone: radius at z_low and at z_high (0 at a drill's tip).
    struct Cone {
        double radius_low_mm = 0.0;
        double radius_high_mm = 0.0;
    };
    std::optional<Cone> cone;
};

/// Every cut of the plan: holes in order (shaft, point, recess, countersink), then pockets.
std::vector<Cut> cuts(const Plan& plan);

/// The hole's full diameter as seen along its axis: a circle, or a slot.
Contour shaft_contour(const Hole& hole);

/// Volume of the cut alone, in mm3.
double volume_mm3(const Cut& cut);

/// Least distance in space between two cuts (0 where they meet), and where: cones are taken as cones.
struct CutGap {
    double distance_mm = 0.0;
    Point3 on_first{};
    Point3 on_second{};
};
CutGap gap(const Cut& first, const Cut& second);

}  // namespace fitup::plan
