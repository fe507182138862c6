#include "calculations/circle_fit.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "calculations/chance.hpp"
#include "calculations/fit_statistics.hpp"
#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::Vector3d;
using Eigen::VectorXd;
using plan::Point;

constexpr int most_steps = 200;
/// A circle this much larger than the points' spread is a line to all that can be measured.
constexpr double line_like = 1e4;

struct Round {
    Point centre;
    double radius = 0.0;
};

Point mean_of(std::span<const Point> points) {
    Point sum;
    for (const Point& point : points) sum = sum + point;
    return sum * (1.0 / double(points.size()));
}

double spread_of(std::span<const Point> points, Point mean) {
    double most = 0.0;
    for (const Point& point : points) most = std::max(most, plan::distance_mm(point, mean));
    return most;
}

/// Least squares of x^2 + y^2 + a x + b y + c: linear, good to start from.
std::optional<Round> algebraic_circle(std::span<const Point> points) {
    MatrixXd A(Index(points.size()), 3);
    VectorXd b(Index(points.size()));
    for (std::size_t i = 0; i < points.size(); ++i) {
        A.row(Index(i)) << points[i].x_mm, points[i].y_mm, 1.0;
        b(Index(i)) = -plan::dot(points[i], points[i]);
    }
    const auto qr = A.colPivHouseholderQr();
    if (qr.rank() < 3) return {};
    const Vector3d x = qr.solve(b);
    const Point centre{-x(0) / 2.0, -x(1) / 2.0};
    const double radius2 = plan::dot(centre, centre) - x(2);
    if (!(radius2 > 0.0)) return {};
    return Round{centre, std::sqrt(radius2)};
}

struct Radial {
    VectorXd r;  ///< distance less radius
    MatrixXd J;  ///< by centre and radius
    double squares() const { return r.squaredNorm(); }
};

Radial radial_at(std::span<const Point> points, const Round& circle) {
    Radial radial{VectorXd(Index(points.size())), MatrixXd(Index(points.size()), 3)};
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Point out = points[i] - circle.centre;
        const double distance = plan::length(out);
        const Point u = distance > 0.0 ? out * (1.0 / distance) : Point{1.0, 0.0};
        radial.r(Index(i)) = distance - circle.radius;
        radial.J.row(Index(i)) << -u.x_mm, -u.y_mm, -1.0;
    }
    return radial;
}

/// Levenberg-Marquardt in three unknowns, from the algebraic circle.
Round geometric_circle(std::span<const Point> points, Round circle) {
    double damping = 1e-6;
    Radial at = radial_at(points, circle);
    for (int step = 0; step < most_steps; ++step) {
        Eigen::Matrix3d N = at.J.transpose() * at.J;
        N.diagonal() *= 1.0 + damping;
        const Vector3d by = N.ldlt().solve(-at.J.transpose() * at.r);
        const Round next{circle.centre + Point{by(0), by(1)}, circle.radius + by(2)};
        const Radial there = radial_at(points, next);
        const bool is_tiny = by.norm() < 1e-15 * circle.radius;
        // Near the end rounding decides which is less; steps that small may all be taken.
        if (there.squares() <= at.squares() * (1.0 + 1e-12)) {
            circle = next;
            at = there;
            damping = std::max(damping / 10.0, 1e-15);
        } else {
            damping = std::min(damping * 10.0, 1e12);
        }
        if (is_tiny) break;
    }
    return circle;
}

/// Directions from the centre as a matrix: radial parts of what points are off by, n x 2n.
MatrixXd outward(std::span<const Point> points, Point centre) {
    MatrixXd U = MatrixXd::Zero(Index(points.size()), Index(2 * points.size()));
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Point u = plan::unit(points[i] - centre);
        U(Index(i), Index(2 * i)) = u.x_mm;
        U(Index(i), Index(2 * i + 1)) = u.y_mm;
    }
    return U;
}

/// Chi-square of residuals about the best fit of all: the parts that the parameters take up drop out.
double chi_square(const VectorXd& r, const MatrixXd& J, const MatrixXd& variance) {
    const auto ldlt = variance.ldlt();
    const MatrixXd WJ = ldlt.solve(J);
    const VectorXd Wr = ldlt.solve(r);
    const VectorXd taken = (J.transpose() * WJ).ldlt().solve(J.transpose() * Wr);
    return std::max(0.0, r.dot(Wr) - (J.transpose() * Wr).dot(taken));
}

void add_uncertainty(std::span<const Point> points, const MatrixXd& C, const Radial& at, CircleFit& fit) {
    const MatrixXd U = outward(points, fit.centre_mm);
    const Eigen::Matrix3d N = at.J.transpose() * at.J;
    // By how much centre and radius move with the points.
    const MatrixXd moves = -N.ldlt().solve(at.J.transpose() * U);
    for (const Index row : {0, 1}) {
        for (Index k = 0; k < moves.cols(); ++k) fit.centre_rates.push_back(moves(row, k));
    }
    const Eigen::Matrix3d of_circle = moves * C * moves.transpose();
    fit.centre_sigma_mm = {std::sqrt(std::max(0.0, of_circle(0, 0))),
                           std::sqrt(std::max(0.0, of_circle(1, 1)))};
    fit.diameter_sigma_mm = 2.0 * std::sqrt(std::max(0.0, of_circle(2, 2)));
    const Point out = points[0] - fit.centre_mm;
    const Point across = plan::left_of(out) * (1.0 / plan::dot(out, out));
    Eigen::RowVectorXd turns = -across.x_mm * moves.row(0) - across.y_mm * moves.row(1);
    turns(0) += across.x_mm;
    turns(1) += across.y_mm;
    fit.start_angle_sigma_rad = std::sqrt(std::max(0.0, (turns * C * turns.transpose()).value()));
    const MatrixXd variance = regular(U * C * U.transpose(), at.J);
    fit.chance = chi_square_tail(chi_square(at.r, at.J, variance), int(points.size()) - 3);
}

}  // namespace

std::optional<CircleFit> fit_circle(std::span<const Point> points_mm,
                                    std::span<const double> covariance_mm2) {
    if (points_mm.size() < 3) return {};
    const Point mean = mean_of(points_mm);
    std::vector<Point> points(points_mm.begin(), points_mm.end());
    for (Point& point : points) point = point - mean;
    const double spread = spread_of(points, {});
    const auto start = algebraic_circle(points);
    if (!start || start->radius > line_like * spread) return {};
    const Round circle = geometric_circle(points, *start);
    if (!(circle.radius > 0.0) || circle.radius > line_like * spread) return {};
    const Radial at = radial_at(points, circle);
    CircleFit fit;
    fit.centre_mm = circle.centre;
    fit.diameter_mm = 2.0 * circle.radius;
    const Point first = points[0] - circle.centre;
    fit.start_angle_rad = std::atan2(first.y_mm, first.x_mm);
    fit.residuals_mm.assign(at.r.data(), at.r.data() + at.r.size());
    fit.worst_residual_mm = at.r.cwiseAbs().maxCoeff();
    fit.roundness_mm = at.r.maxCoeff() - at.r.minCoeff();
    add_uncertainty(points, matrix_of(covariance_mm2, points.size()), at, fit);
    fit.centre_mm = fit.centre_mm + mean;
    return fit;
}

namespace {

/// Places of equal spacing with their derivatives by centre, radius and start angle.
struct Spaced {
    VectorXd places;
    MatrixXd J;
};

Spaced spaced_at(const Eigen::Vector4d& p, const std::vector<int>& ordinal, int count) {
    const Index n = Index(ordinal.size());
    Spaced at{VectorXd(2 * n), MatrixXd::Zero(2 * n, 4)};
    for (Index i = 0; i < n; ++i) {
        const double angle = p(3) + 2.0 * std::numbers::pi * ordinal[std::size_t(i)] / count;
        const double c = std::cos(angle), s = std::sin(angle);
        at.places(2 * i) = p(0) + p(2) * c;
        at.places(2 * i + 1) = p(1) + p(2) * s;
        at.J.row(2 * i) << 1.0, 0.0, c, -p(2) * s;
        at.J.row(2 * i + 1) << 0.0, 1.0, s, p(2) * c;
    }
    return at;
}

/// Which place each point takes: the phase that all points together have decides. Empty where two take one.
std::vector<int> ordinals_of(std::span<const Point> points, Point centre, int count, double& start_rad) {
    double sine = 0.0, cosine = 0.0;
    std::vector<double> angles;
    for (const Point& point : points) {
        const Point out = point - centre;
        angles.push_back(std::atan2(out.y_mm, out.x_mm));
        sine += std::sin(count * angles.back());
        cosine += std::cos(count * angles.back());
    }
    const double phase = std::atan2(sine, cosine) / count, spacing = 2.0 * std::numbers::pi / count;
    std::vector<int> ordinal;
    std::vector<bool> is_taken(std::size_t(count), false);
    const int first = int(std::lround((angles[0] - phase) / spacing));
    start_rad = phase + first * spacing;
    for (const double angle : angles) {
        const int place = ((int(std::lround((angle - phase) / spacing)) - first) % count + count) % count;
        if (is_taken[std::size_t(place)]) return {};
        is_taken[std::size_t(place)] = true;
        ordinal.push_back(place);
    }
    return ordinal;
}

}  // namespace

std::optional<EqualSpacing> fit_equal_spacing(std::span<const Point> points_mm,
                                              std::span<const double> covariance_mm2, int count) {
    const auto circle = fit_circle(points_mm, covariance_mm2);
    if (!circle || count < int(points_mm.size())) return {};
    EqualSpacing spacing{.count = count, .centre_mm = {}, .ordinal = {}, .places_mm = {}};
    double start_rad = 0.0;
    spacing.ordinal = ordinals_of(points_mm, circle->centre_mm, count, start_rad);
    if (spacing.ordinal.empty()) return {};
    const Index n = Index(points_mm.size());
    VectorXd seen(2 * n);
    for (Index i = 0; i < n; ++i)
        seen.segment<2>(2 * i) << points_mm[std::size_t(i)].x_mm, points_mm[std::size_t(i)].y_mm;
    Eigen::Vector4d p(circle->centre_mm.x_mm, circle->centre_mm.y_mm, circle->diameter_mm / 2.0, start_rad);
    // Shifts and turns of the whole are fitted; left in, they would make the result hang on the datum, which
    // adds a different lot of them to every point's covariance.
    const MatrixXd C = shape_covariance(points_mm, covariance_mm2);
    Spaced at = spaced_at(p, spacing.ordinal, count);
    for (int step = 0; step < 20; ++step) {
        const auto ldlt = regular(C, at.J).ldlt();
        const MatrixXd WJ = ldlt.solve(at.J);
        const Eigen::Vector4d by = (at.J.transpose() * WJ).ldlt().solve(WJ.transpose() * (seen - at.places));
        p += by;
        at = spaced_at(p, spacing.ordinal, count);
        if (by.head<3>().norm() + std::abs(p(2) * by(3)) < 1e-13 * p(2)) break;
    }
    const VectorXd r = seen - at.places;
    spacing.chance = chi_square_tail(chi_square(r, at.J, regular(C, at.J)), 2 * int(points_mm.size()) - 4);
    spacing.centre_mm = {p(0), p(1)};
    spacing.diameter_mm = 2.0 * p(2);
    spacing.start_angle_rad = std::remainder(p(3), 2.0 * std::numbers::pi);
    for (Index i = 0; i < n; ++i) {
        spacing.places_mm.push_back({at.places(2 * i), at.places(2 * i + 1)});
        spacing.worst_mm = std::max(spacing.worst_mm, r.segment<2>(2 * i).norm());
    }
    return spacing;
}

}  // namespace fitup::calculations
