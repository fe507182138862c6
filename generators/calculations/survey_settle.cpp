#include "calculations/survey_settle.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;
using plan::Point;

/// A hundred times finer than the 1e-8 mm that any result is told to, and far above rounding.
constexpr double steady_mm = 1e-10;
/// Below this a step only tells rounding; whether the sum fell says nothing then.
constexpr double small_step_mm = 1e-7;
constexpr double first_damping = 1e-4;
constexpr double most_damping = 1e8;

/// Reciprocal condition number under which the places aren't held.
constexpr double least_condition = 1e-14;

/// Normal equations: `matrix` = sum of weighted rates, `right` = what moves the places towards the readings.
struct Normal {
    MatrixXd matrix;
    VectorXd right;
    double sum_of_squares = 0.0;
};

void add(Normal& normal, const Observation& seen, const ReadingEquation& equation) {
    const double weight = 1.0 / (seen.sigma * seen.sigma);
    const double miss = misfit(seen, equation.fitted);
    normal.sum_of_squares += miss * miss * weight;
    for (int i = 0; i < 2 * equation.count; ++i) {
        const double rate = equation.rates[std::size_t(i)] * weight;
        const int row = 2 * equation.point[std::size_t(i / 2)] + i % 2;
        normal.right[row] += rate * miss;
        for (int j = 0; j < 2 * equation.count; ++j)
            normal.matrix(row, 2 * equation.point[std::size_t(j / 2)] + j % 2) +=
                rate * equation.rates[std::size_t(j)];
    }
}

Normal normal_of(const Network& network, const std::vector<Point>& at) {
    const auto size = Eigen::Index(2 * network.points);
    Normal normal{MatrixXd::Zero(size, size), VectorXd::Zero(size)};
    for (const Observation& seen : network.seen) add(normal, seen, equation_of(seen, at));
    return normal;
}

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

/// The motions that coordinates leave free, as columns square to one another.
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

/// Normal matrix with the free motions held: N + s G G', whose inverse is the pseudo-inverse of N and G G' /
/// s.
struct Held {
    MatrixXd matrix;
    MatrixXd basis;
    double strength = 1.0;
};

Held held(const Network& network, const std::vector<Point>& at, int free, const MatrixXd& normal) {
    Held result{normal, free_basis(network, at, free), normal.trace() / double(normal.rows())};
    if (free > 0) result.matrix.noalias() += result.strength * result.basis * result.basis.transpose();
    return result;
}

std::vector<Point> stepped(std::vector<Point> at, const VectorXd& step) {
    for (std::size_t i = 0; i < at.size(); ++i)
        at[i] = at[i] + Point{step[Eigen::Index(2 * i)], step[Eigen::Index(2 * i + 1)]};
    return at;
}

/// Steps downhill from a start; one that would not help is tried again with more damping.
class Descent {
  public:
    Descent(const Network& network, std::vector<Point> start)
        : network_(network), free_(free_motions(network)), at_(std::move(start)) {
        normal_ = normal_of(network_, at_);
    }

    Settled run(int most_steps) {
        int i = 0;
        for (; i < most_steps && !steady_ && damping_ < most_damping; ++i) step();
        return {at_, normal_.sum_of_squares, i, steady_};
    }

  private:
    void step() {
        Held held_matrix = held(network_, at_, free_, normal_.matrix);
        held_matrix.matrix.diagonal() *= 1.0 + damping_;
        const Eigen::LLT<MatrixXd> factor(held_matrix.matrix);
        const VectorXd step = factor.solve(normal_.right);
        const double size = step.lpNorm<Eigen::Infinity>();
        if (factor.info() != Eigen::Success || !std::isfinite(size)) return damp();
        std::vector<Point> next = stepped(at_, step);
        Normal there = normal_of(network_, next);
        if (size > small_step_mm && !(there.sum_of_squares < normal_.sum_of_squares)) return damp();
        at_ = std::move(next);
        normal_ = std::move(there);
        steady_ = size < steady_mm;
        damping_ = damping_ > 10.0 * first_damping ? damping_ / 10.0 : 0.0;
    }

    void damp() { damping_ = damping_ > 0.0 ? damping_ * 10.0 : first_damping; }

    const Network& network_;
    int free_;
    std::vector<Point> at_;
    Normal normal_;
    double damping_ = 0.0;
    bool steady_ = false;
};

Held held_at(const Network& network, const std::vector<Point>& at) {
    return held(network, at, free_motions(network), normal_of(network, at).matrix);
}

std::vector<double> covariance_with(const Held& all, const Eigen::LLT<MatrixXd>& factor) {
    MatrixXd inverse = factor.solve(MatrixXd::Identity(all.matrix.rows(), all.matrix.cols()));
    inverse.noalias() -= all.basis * all.basis.transpose() / all.strength;
    inverse = (0.5 * (inverse + inverse.transpose())).eval();
    return {inverse.data(), inverse.data() + inverse.size()};
}

}  // namespace

Settled settle(const Network& network, std::vector<Point> start, int most_steps) {
    return Descent(network, std::move(start)).run(most_steps);
}

std::optional<std::vector<double>> covariance_of(const Network& network, const std::vector<Point>& at) {
    const Held all = held_at(network, at);
    const Eigen::LLT<MatrixXd> factor(all.matrix);
    if (factor.info() != Eigen::Success || !(factor.rcond() > least_condition)) return std::nullopt;
    return covariance_with(all, factor);
}

std::vector<double> loose_covariance_of(const Network& network, const std::vector<Point>& at) {
    Held all = held_at(network, at);
    all.matrix.diagonal().array() += 100.0 * least_condition * all.strength;
    return covariance_with(all, Eigen::LLT<MatrixXd>(all.matrix));
}

}  // namespace fitup::calculations
