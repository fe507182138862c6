#include "calculations/survey_free.hpp"

#include <Eigen/Dense>
#include <algorithm>

#include "calculations/fit_statistics.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using Eigen::MatrixXd;
using plan::Point;

/// Both shifts and the turn about the mean, each of length 1 and square to the others.
MatrixXd unit_motions(const std::vector<Point>& at) {
    MatrixXd motions = rigid_motions(at);
    for (int k = 0; k < 3; ++k) motions.col(k) /= std::max(motions.col(k).norm(), 1e-300);
    return motions;
}

}  // namespace

MatrixXd free_basis(const Network& network, const std::vector<Point>& at, int free) {
    MatrixXd motions = unit_motions(at);
    if (free == 3) return motions;
    if (free == 0) return motions.leftCols(0);
    Eigen::Matrix3d held = Eigen::Matrix3d::Zero();
    for (const Observation& seen : network.seen) {
        if (seen.quantity != Quantity::x && seen.quantity != Quantity::y) continue;
        const Eigen::RowVector3d row =
            motions.row(2 * seen.a + (seen.quantity == Quantity::y ? 1 : 0)) / seen.sigma;
        held += row.transpose() * row;
    }
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> solver(held);
    return motions * solver.eigenvectors().leftCols(free);
}

}  // namespace fitup::calculations
