#pragma once

#include <Eigen/SparseCore>
#include <optional>

#include "calculations/survey_network.hpp"

namespace fitup::calculations {

/// Normal equations of a network that keep the noughts out: of a large one in which each point is read to a
/// few others.
class SparseNormal {
  public:
    SparseNormal(const Network& network, const std::vector<plan::Point>& at);

    /// The step towards the readings, without any part along free motions; empty where there is none.
    /// @param damping  added to the diagonal, as a share of it
    Eigen::VectorXd step(const Network& network, const std::vector<plan::Point>& at, double damping) const;

    /// As `covariance_of`.
    /// @param least_condition  reciprocal condition number under which places aren't held
    std::optional<std::vector<double>> covariance(const Network& network, const std::vector<plan::Point>& at,
                                                  double least_condition) const;

    double sum_of_squares = 0.0;

  private:
    /// With as many coordinates held as there are free motions.
    Eigen::SparseMatrix<double> pinned(const Eigen::MatrixXd& basis) const;

    Eigen::SparseMatrix<double> matrix_;
    Eigen::VectorXd right_;
};

}  // namespace fitup::calculations
