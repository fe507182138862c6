#pragma once

#include <array>
#include <optional>
#include <vector>

#include "plan/plan.hpp"

/// A joggled strip in closed form: two bends of one angle, opposite ways, with a straight piece between them.
///
/// With R the radius of the middle line (inside radius + t / 2), H the rise, L the run and s the straight:
///   L = 2 R sin A + s cos A,   H = 2 R (1 - cos A) + s sin A,   so s^2 = L^2 + H^2 - 4 R H.
namespace fitup::plan {

struct JoggleShape {
    Angle bend;                 ///< of each bend, over 0 and at most 90 degrees
    double straight_mm = 0.0;   ///< between the bends
    double mid_line_mm = 0.0;   ///< through the joggle, at half the thickness
    double allowance_mm = 0.0;  ///< length of the neutral line in one bend
    double developed_mm =
        0.0;  ///< length of flat strip that the joggle takes: two allowances and the straight
};

/// @returns nothing where no bend angle up to 90 degrees leads through rise and run (see joggle_limits).
std::optional<JoggleShape> joggle_shape(const Joggle& joggle, double thickness_mm);

/// A bend's allowance A (r + K t). Source: Machinery's Handbook, bend allowance with a K factor.
double bend_allowance_mm(Angle bend, double inside_radius_mm, double thickness_mm, double k_factor);

/// How far one figure of a joggle may go while the others stay.
struct JoggleLimits {
    double least_run_mm = 0.0;
    std::optional<double> most_rise_mm;           ///< either way; none: any rise goes
    std::optional<double> most_inside_radius_mm;  ///< none: even a sharp bend is too much
};
JoggleLimits joggle_limits(const Joggle& joggle, double thickness_mm);

/// The joggle from the side, as (x, z) points; `lower` is the strip's underside.
struct JoggleProfile {
    /// Of each bend its start and end: 0 and 1 of the first, 2 and 3 of the second.
    std::array<Point, 4> lower;
    std::array<Point, 4> upper;
    std::array<Point, 2> centre;
};
JoggleProfile joggle_profile(const Joggle& joggle, double thickness_mm, const JoggleShape& shape);

/// Whether x lies in the bends or between them, ends excluded.
bool is_in_joggle(const Joggle& joggle, double x_mm);

/// The plan as seen from above: without its joggle and without holes from the side.
Plan flat_view(const Plan& plan);

/// The two legs as parts of their own, each with its face A at z = 0.
/// @returns nothing unless the outline crosses the first bend's start and the second's end in two straight
/// lines along X each, as a strip does, and no cut or raised ring reaches into the joggle.
std::optional<std::array<Plan, 2>> legs(const Plan& plan);

/// Closed-form volume of a slab without holes from the side: of its view from above, and of a joggle the
/// mid-line's surplus over its run.
/// @returns nothing where the view from above is no sum of prisms.
std::optional<double> slab_volume_mm3(const Plan& plan);

/// The flat strip that the part is bent from, cut out and drilled before bending.
struct FlatBlank {
    /// Outline and holes at their places on the blank, x from the pivot's axis; what stands on the strip and
    /// what is cut after bending (a clamp's boss, slit and bolt hole) is left out.
    Plan plan;
    /// x of each bend's start and end on the blank; empty for a flat part.
    std::vector<std::array<double, 2>> bends_mm;
};
/// @returns nothing where legs() are nothing.
std::optional<FlatBlank> flat_blank(const Plan& plan);

}  // namespace fitup::plan
