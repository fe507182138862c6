#include "calculations/survey_free.hpp"

#include <Eigen/Dense>
#include <algorithm>

#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using Eigen::MatrixXd;
using plan::Point;

/// Both shifts and the turn about the mean, each of length 1 and square to the others.
MatrixXd rigid_motions(const std::vector<Point>& at) {
    Point mean;
    for (const Point& p : at) mean = mean + p * (1.0 / double(at.size()));
    MatrixXd motions = MatrixXd::Zero(Eigen::Index(2 * at.size()), 3);
    for (std::size_t i = 0; i < at.size(); ++i) {
        const Point turn = plan::left_of(at[i] - mean);
        const auto row = Eigen::Index(2 * i);
        motions(row, 0) = motions(row + 1, 1) = 1.0;
        motions(row, 2) = turn.x_mm;
        motions(row + 1, 2) = turn.y_mm;
    }
    for (int k = 0; k < 3; ++k) motions.col(k) /= std::max(motions.col(k).norm(), 1e-300);
    return motions;
}

}  // namespace

MatrixXd free_basis(const Network& network, const std::vector<Point>& at, int free) {
    MatrixXd motions = rigid_motions(at);
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
