#pragma once

#include <optional>
#include <vector>

#include "calculations/linkage.hpp"

/// Closed-form positions of a chain of spatial four-bars (ball joint at each end of a rod). Angles in radians
/// here: these run millions of times.
namespace fitup::calculations {

/// Cosine and sine of an angle.
struct Turn {
    double cos = 1.0;
    double sin = 0.0;
};

/// The circle that a lever's joint goes round.
struct Circle {
    Vector centre;
    Vector e1, e2;  ///< in the circle's plane: angle zero, and a quarter turn on
    double radius_mm = 0.0;

    /// Unit, from the centre to the joint.
    Vector outward(const Turn& turn) const { return e1 * turn.cos + e2 * turn.sin; }
    /// Unit, the way the joint goes.
    Vector path(const Turn& turn) const { return e2 * turn.cos - e1 * turn.sin; }
    Vector at(const Turn& turn) const { return centre + outward(turn) * radius_mm; }
};

/// One loop: a pin on a circle drives another pin on a circle through a rod.
/// Formula: |A - B| = l with B on the driven lever's circle is P cos p + Q sin p = C; p = atan2(Q, P) +-
/// acos(C / |(P, Q)|) (RSSR linkage, Geometric Design of Linkages, 2nd ed., appendix A).
struct Loop : Circle {  ///< the driven pin's circle
    double rod_mm = 0.0;
    double branch = 1.0;  ///< +1 or -1
};

/// P, Q and C of a loop's equation for a place of the driving pin. With D from the circle's centre to the
/// pin: 2 r D.e1 cos + 2 r D.e2 sin = D.D + r^2 - l^2; the centre lies in the circle's plane, so that an
/// offset along the axis is in D already.
struct Equation {
    double p = 0.0, q = 0.0, c = 0.0;
    Vector from_centre;  ///< D
    double size_sq() const { return p * p + q * q; }
};
inline Equation equation_of(const Loop& loop, const Vector& driving_pin) {
    const Vector d = driving_pin - loop.centre;
    return {2.0 * loop.radius_mm * dot(d, loop.e1), 2.0 * loop.radius_mm * dot(d, loop.e2),
            dot(d, d) + loop.radius_mm * loop.radius_mm - loop.rod_mm * loop.rod_mm, d};
}

/// The driven angle of a closed loop: the direction of (P, Q) turned by +-acos(C / size).
/// @param signed_sine  branch times sqrt(size^2 - C^2)
inline Turn turn_of(const Equation& e, double cosine, double signed_sine) {
    const double scale = 1.0 / e.size_sq();
    return {(e.p * cosine - e.q * signed_sine) * scale, (e.q * cosine + e.p * signed_sine) * scale};
}

/// The chain with all its sizes settled: alternating a driving circle and a loop.
struct Chain {
    std::vector<Circle> driving;  ///< one a rod
    std::vector<Loop> loops;      ///< one a rod
};

/// The driven angle of one loop, or by how much (over 0) the rod misses: too short or too long in mm.
struct Closing {
    Turn turn;
    double gap_mm = 0.0;  ///< 0 where it closes; there `turn` is the nearest that can be had
};
Closing close(const Loop& loop, const Vector& driving_pin);

/// The chain of a linkage at the values its dimensions hold, each loop on the branch given.
Chain chain_of(const Linkage& linkage, const std::vector<double>& branches);

/// The branch of each loop: that whose levers are nearest their rest with the input at zero (or at the
/// nearest input of the travel at which the chain closes). Nothing where it closes nowhere.
std::optional<std::vector<double>> branches_of(const Linkage& linkage);

/// Turns of all levers (first the input) at an input angle.
struct Pose {
    std::vector<Turn> turns;
    double gap_mm = 0.0;       ///< over 0: the chain can't close here
    std::size_t open_rod = 0;  ///< the rod that misses, where gap_mm is over 0
};
Pose pose_at(const Chain& chain, double input_rad);

/// The output's angle alone, from -pi to pi; not a number where the chain can't close. For the many.
double output_rad(const Chain& chain, double input_rad);

}  // namespace fitup::calculations
