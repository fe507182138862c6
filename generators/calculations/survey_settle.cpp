#include "calculations/survey_settle.hpp"

#include <Eigen/Dense>
#include <cmath>

#include "calculations/survey_free.hpp"
#include "calculations/survey_sparse.hpp"
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

/// From this many points on most pairs have no reading in common: equations without the noughts are quicker.
constexpr std::size_t sparse_from = 25;

/// Reciprocal condition number under which the places aren't held.
constexpr double least_condition = 1e-14;

/// Normal equations: `matrix` = sum of weighted rates, `right` = what moves the places towards the readings.
struct Normal {
    Normal(const Network& network, const std::vector<Point>& at);
    VectorXd step(const Network& network, const std::vector<Point>& at, double damping) const;

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

Normal::Normal(const Network& network, const std::vector<Point>& at) {
    const auto size = Eigen::Index(2 * network.points);
    matrix = MatrixXd::Zero(size, size);
    right = VectorXd::Zero(size);
    for (const Observation& seen : network.seen) add(*this, seen, equation_of(seen, at));
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

VectorXd Normal::step(const Network& network, const std::vector<Point>& at, double damping) const {
    Held all = held(network, at, free_motions(network), matrix);
    all.matrix.diagonal() *= 1.0 + damping;
    const Eigen::LLT<MatrixXd> factor(all.matrix);
    return factor.info() == Eigen::Success ? VectorXd(factor.solve(right)) : VectorXd();
}

std::vector<Point> stepped(std::vector<Point> at, const VectorXd& step) {
    for (std::size_t i = 0; i < at.size(); ++i)
        at[i] = at[i] + Point{step[Eigen::Index(2 * i)], step[Eigen::Index(2 * i + 1)]};
    return at;
}

/// Steps downhill from a start; one that would not help is tried again with more damping.
template <typename Equations>
class Descent {
  public:
    Descent(const Network& network, std::vector<Point> start)
        : network_(network), at_(std::move(start)), equations_(network, at_) {}

    Settled run(int most_steps) {
        int i = 0;
        for (; i < most_steps && !steady_ && damping_ < most_damping; ++i) step();
        return {at_, equations_.sum_of_squares, i, steady_};
    }

  private:
    void step() {
        const VectorXd step = equations_.step(network_, at_, damping_);
        if (step.size() == 0 || !step.allFinite()) return damp();
        const double size = step.lpNorm<Eigen::Infinity>();
        std::vector<Point> next = stepped(at_, step);
        Equations there(network_, next);
        if (size > small_step_mm && !(there.sum_of_squares < equations_.sum_of_squares)) return damp();
        at_ = std::move(next);
        equations_ = std::move(there);
        steady_ = size < steady_mm;
        damping_ = damping_ > 10.0 * first_damping ? damping_ / 10.0 : 0.0;
    }

    void damp() { damping_ = damping_ > 0.0 ? damping_ * 10.0 : first_damping; }

    const Network& network_;
    std::vector<Point> at_;
    Equations equations_;
    double damping_ = 0.0;
    bool steady_ = false;
};

Held held_at(const Network& network, const std::vector<Point>& at) {
    return held(network, at, free_motions(network), Normal(network, at).matrix);
}

std::vector<double> covariance_with(const Held& all, const Eigen::LLT<MatrixXd>& factor) {
    MatrixXd inverse = factor.solve(MatrixXd::Identity(all.matrix.rows(), all.matrix.cols()));
    inverse.noalias() -= all.basis * all.basis.transpose() / all.strength;
    inverse = (0.5 * (inverse + inverse.transpose())).eval();
    return {inverse.data(), inverse.data() + inverse.size()};
}

}  // namespace

Settled settle(const Network& network, std::vector<Point> start, int most_steps) {
    if (network.points < sparse_from) return Descent<Normal>(network, std::move(start)).run(most_steps);
    return Descent<SparseNormal>(network, std::move(start)).run(most_steps);
}

std::optional<std::vector<double>> covariance_of(const Network& network, const std::vector<Point>& at) {
    if (network.points >= sparse_from)
        return SparseNormal(network, at).covariance(network, at, least_condition);
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
