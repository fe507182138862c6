#pragma once

#include <span>
#include <vector>

#include "plan/contour.hpp"

/// What brings a measured pattern onto itself, and what does so nearly.
namespace fitup::calculations {

/// A turn about the pattern's middle, or a mirror image in an axis through it.
struct Symmetry {
    bool is_mirror = false;
    double angle_rad = 0.0;  ///< of the turn, (0, 2 pi); or of the axis, [0, pi)
    double worst_mm = 0.0;   ///< how far the worst point then lies from its place
};

/// Those that the points' uncertainty lets pass, turns first, by their angles; the turn by nothing is not
/// told. Each point must fall within what 1 of 10,000 points exceeds.
/// @param covariance_mm2  2n x 2n by rows; empty: exact points
std::vector<Symmetry> symmetries(std::span<const plan::Point> points_mm,
                                 std::span<const double> covariance_mm2);

/// The pattern used mirrored: shifted and turned to where most of its holes fall on a place.
struct MirroredUse {
    double slack_mm = 0.0;     ///< how far off a hole may lie for its bolt to go in
    int fits = 0;              ///< holes of the mirror image that fall on a place
    std::vector<int> telling;  ///< places that no hole falls on, the worst first
};
/// Up to 16 points every mirror image that lays two of them on two places is tried; of more those about the
/// middle that lay one of the three outermost on a place.
MirroredUse mirrored_use(std::span<const plan::Point> points_mm, double slack_mm);

}  // namespace fitup::calculations
