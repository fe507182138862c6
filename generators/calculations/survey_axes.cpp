// A fit seen in other axes, with the covariance that belongs to these (S-transformation).
#include <Eigen/Dense>
#include <Eigen/SparseCore>
#include <cmath>
#include <numbers>

#include "calculations/survey.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using Eigen::MatrixXd;
using plan::Point;

constexpr auto row_major = Eigen::RowMajor;
using Sparse = Eigen::SparseMatrix<double>;
using Rows = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, row_major>;

/// The new axes' direction in the old ones, and its change with the two points.
struct Direction {
    double rad = 0.0;
    Point rate_at_end;  ///< with the second point; the first has the opposite
};

Direction direction_of(const std::vector<Point>& at, const std::array<int, 2>& x_axis) {
    if (x_axis[0] < 0) return {};
    const Point along = at[std::size_t(x_axis[1])] - at[std::size_t(x_axis[0])];
    const double square = plan::dot(along, along);
    return {std::atan2(along.y_mm, along.x_mm), plan::left_of(along) * (1.0 / square)};
}

/// Rates of the new coordinates with the old ones; most are nought.
Sparse rates_of(const std::vector<Point>& at, const Axes& axes, const Direction& direction) {
    const auto size = Eigen::Index(2 * at.size());
    Eigen::Matrix2d back;
    back << std::cos(direction.rad), std::sin(direction.rad), -std::sin(direction.rad),
        std::cos(direction.rad);
    const auto origin = axes.origin_rates.empty()
                            ? Rows(Rows::Zero(2, size))
                            : Rows(Eigen::Map<const Rows>(axes.origin_rates.data(), 2, size));
    const Rows moved = -back * origin;
    std::vector<Eigen::Triplet<double>> rates;
    const auto add = [&](Eigen::Index row, Eigen::Index column, const Eigen::Matrix2d& block) {
        for (Eigen::Index i = 0; i < 4; ++i)
            rates.emplace_back(row + i / 2, column + i % 2, block(i / 2, i % 2));
    };
    for (Eigen::Index i = 0; i < size; i += 2) {
        add(i, i, back);
        for (Eigen::Index j = 0; j < size; j += 2)
            if (!moved.middleCols(j, 2).isZero(0.0)) add(i, j, moved.middleCols(j, 2));
        if (axes.x_axis[0] < 0) continue;
        // Axes that turn on carry every place back.
        const Point lies = plan::turned(at[std::size_t(i / 2)] - axes.origin_mm, -direction.rad);
        const Eigen::Vector2d swept(lies.y_mm, -lies.x_mm);
        const Eigen::RowVector2d turn(direction.rate_at_end.x_mm, direction.rate_at_end.y_mm);
        add(i, 2 * axes.x_axis[1], swept * turn);
        add(i, 2 * axes.x_axis[0], -swept * turn);
    }
    Sparse matrix(size, size);
    matrix.setFromTriplets(rates.begin(), rates.end());
    return matrix;
}

}  // namespace

Axes axes_at_mean(const SurveyFit& fit, const std::vector<int>& points) {
    Axes axes;
    if (points.empty()) return axes;
    const std::size_t size = 2 * fit.points_mm.size();
    const double share = 1.0 / double(points.size());
    axes.origin_rates.assign(2 * size, 0.0);
    for (const int point : points) {
        const auto p = std::size_t(point);
        axes.origin_mm = axes.origin_mm + fit.points_mm[p] * share;
        axes.origin_rates[2 * p] += share;
        axes.origin_rates[size + 2 * p + 1] += share;
    }
    return axes;
}

SurveyFit moved_to(SurveyFit fit, const Axes& axes) {
    const Direction direction = direction_of(fit.points_mm, axes.x_axis);
    const Sparse rates = rates_of(fit.points_mm, axes, direction);
    const Eigen::Index size = rates.rows();
    Eigen::Map<Rows> covariance(fit.covariance_mm2.data(), size, size);
    const MatrixXd half = rates * covariance;
    covariance = half * rates.transpose();
    covariance = (0.5 * (covariance + covariance.transpose())).eval();
    for (Point& p : fit.points_mm)
        p = plan::turned(p - axes.origin_mm, -direction.rad) + axes.origin_becomes_mm;
    return fit;
}

ErrorEllipse error_ellipse(const SurveyFit& fit, std::size_t point) {
    const std::size_t size = 2 * fit.points_mm.size(), x = 2 * point, y = x + 1;
    const double xx = fit.covariance_mm2[x * size + x], yy = fit.covariance_mm2[y * size + y];
    const double xy = fit.covariance_mm2[x * size + y];
    const double middle = (xx + yy) / 2.0, radius = std::hypot((xx - yy) / 2.0, xy);
    return {std::sqrt(std::max(0.0, middle + radius)), std::sqrt(std::max(0.0, middle - radius)),
            0.5 * std::atan2(2.0 * xy, xx - yy)};
}

}  // namespace fitup::calculations
