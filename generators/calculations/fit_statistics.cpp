#include "calculations/fit_statistics.hpp"

#include "plan/vector.hpp"

namespace fitup::calculations {

using Eigen::Index;
using Eigen::MatrixXd;

MatrixXd matrix_of(std::span<const double> covariance_mm2, std::size_t points) {
    const Index size = Index(2 * points);
    if (covariance_mm2.empty()) return MatrixXd::Zero(size, size);
    return Eigen::Map<const Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>>(
        covariance_mm2.data(), size, size);
}

MatrixXd regular(MatrixXd variance, const MatrixXd& J) {
    const double mean = variance.trace() / double(variance.rows()) + floor_mm * floor_mm;
    // Columns of one size, so that none is lost beside the others.
    for (Index k = 0; k < J.cols(); ++k) {
        const double size2 = J.col(k).squaredNorm() / double(J.rows());
        if (size2 > 0.0) variance += (mean / size2) * J.col(k) * J.col(k).transpose();
    }
    variance.diagonal().array() += floor_mm * floor_mm;
    return variance;
}

MatrixXd rigid_motions(std::span<const plan::Point> points_mm) {
    plan::Point mean;
    for (const plan::Point& point : points_mm) mean = mean + point * (1.0 / double(points_mm.size()));
    MatrixXd G = MatrixXd::Zero(Index(2 * points_mm.size()), 3);
    for (std::size_t i = 0; i < points_mm.size(); ++i) {
        const plan::Point turn = plan::left_of(points_mm[i] - mean);
        const Index row = Index(2 * i);
        G(row, 0) = G(row + 1, 1) = 1.0;
        G(row, 2) = turn.x_mm;
        G(row + 1, 2) = turn.y_mm;
    }
    return G;
}

MatrixXd shape_covariance(std::span<const plan::Point> points_mm, std::span<const double> covariance_mm2) {
    const MatrixXd C = matrix_of(covariance_mm2, points_mm.size());
    const MatrixXd G = rigid_motions(points_mm);
    MatrixXd unit = G;
    for (Index k = 0; k < 3; ++k) {
        const double size = G.col(k).norm();
        if (size > 0.0) unit.col(k) /= size;
    }
    const MatrixXd M = MatrixXd::Identity(C.rows(), C.cols()) - unit * unit.transpose();
    return M * C * M;
}

}  // namespace fitup::calculations
