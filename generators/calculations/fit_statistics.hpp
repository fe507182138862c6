#pragma once

#include <Eigen/Dense>
#include <span>

#include "plan/contour.hpp"

/// For the sources that fit patterns; knows Eigen, so no other header may include it.
namespace fitup::calculations {

/// What no measurement is better than, however exact its covariance says it is: positions are held to this.
inline constexpr double floor_mm = 1e-6;

/// The covariance as a matrix; zeros where it is empty.
Eigen::MatrixXd matrix_of(std::span<const double> covariance_mm2, std::size_t points);

/// Makes the variance of residuals regular: adds what the fitted parameters take up anyway (directions `J`),
/// which changes neither the fit nor its chi-square (Rao's unified theory of least squares), and the floor.
Eigen::MatrixXd regular(Eigen::MatrixXd variance, const Eigen::MatrixXd& J);

/// The points shifted and turned as a whole, in first order: 2n x 3, orthogonal columns about the mean.
Eigen::MatrixXd rigid_motions(std::span<const plan::Point> points_mm);

/// The covariance without what shifts and turns all points alike.
Eigen::MatrixXd shape_covariance(std::span<const plan::Point> points_mm,
                                 std::span<const double> covariance_mm2);

}  // namespace fitup::calculations
