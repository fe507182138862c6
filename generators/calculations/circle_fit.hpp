#pragma once

#include <optional>
#include <span>
#include <vector>

#include "plan/contour.hpp"

/// The circle that points make, with what their uncertainty leaves of it. Covariances are 2n x 2n by rows, of
/// x and y of each point in turn, in mm2; an empty one stands for exact points. A covariance may be singular
/// where a datum holds points fast: only what no shift or turn of all points changes is judged.
namespace fitup::calculations {

struct CircleFit {
    plan::Point centre_mm;
    double diameter_mm = 0.0;
    double start_angle_rad = 0.0;  ///< direction of the first point from the centre
    plan::Point centre_sigma_mm;   ///< of x and y, in the points' axes
    /// 2 x 2n by rows: the centre's change with x and y of each point in turn.
    std::vector<double> centre_rates;
    double diameter_sigma_mm = 0.0;      ///< one standard deviation
    double start_angle_sigma_rad = 0.0;  ///< one standard deviation
    std::vector<double> residuals_mm;    ///< distance from the centre less the radius, each point
    double worst_residual_mm = 0.0;      ///< the largest without its sign
    double roundness_mm = 0.0;           ///< greatest less least distance from the centre
    /// That readings of holes truly on one circle would leave residuals as large (chi-square).
    double chance = 1.0;
};

/// The circle of least squares of the distances from it (geometric, every point alike).
///
/// Residuals come out to 1e-9 of the diameter. The sigmas are of first order, for residuals small against the
/// radius.
/// @returns nothing for fewer than three points, or points so near a line that the radius has no end
std::optional<CircleFit> fit_circle(std::span<const plan::Point> points_mm,
                                    std::span<const double> covariance_mm2);

struct EqualSpacing {
    int count = 0;  ///< spacings of the whole turn
    plan::Point centre_mm;
    double diameter_mm = 0.0;
    double start_angle_rad = 0.0;        ///< of the first point's place
    std::vector<int> ordinal;            ///< place of each point, anticlockwise from the first, from 0
    std::vector<plan::Point> places_mm;  ///< where equal spacing has each point
    double worst_mm = 0.0;               ///< greatest distance of a point from its place
    /// That readings of equally spaced holes would leave residuals as large (chi-square).
    double chance = 1.0;
};

/// The equally spaced pattern that explains the points best, weighed by their covariance.
/// @param count  at least the number of points
/// @returns nothing for fewer than three points, or where two points fall on one place: they are then not
///          equally spaced in any case
std::optional<EqualSpacing> fit_equal_spacing(std::span<const plan::Point> points_mm,
                                              std::span<const double> covariance_mm2, int count);

}  // namespace fitup::calculations
