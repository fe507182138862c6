#include "calculations/survey_sparse.hpp"

#include <Eigen/Dense>
#include <Eigen/SparseCholesky>

#include "calculations/survey_free.hpp"

namespace fitup::calculations {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;
using Sparse = Eigen::SparseMatrix<double>;
using Entries = std::vector<Eigen::Triplet<double>>;

double diagonal_mean(const Sparse& matrix) { return matrix.diagonal().sum() / double(matrix.rows()); }

void add(const Observation& seen, const ReadingEquation& equation, Entries& entries, VectorXd& right) {
    const double weight = 1.0 / (seen.sigma * seen.sigma), miss = misfit(seen, equation.fitted);
    const auto row_of = [&](int i) { return 2 * equation.point[std::size_t(i / 2)] + i % 2; };
    for (int i = 0; i < 2 * equation.count; ++i) {
        const double rate = equation.rates[std::size_t(i)] * weight;
        right[row_of(i)] += rate * miss;
        for (int j = 0; j < 2 * equation.count; ++j)
            entries.emplace_back(row_of(i), row_of(j), rate * equation.rates[std::size_t(j)]);
    }
}

/// Greatest sum of a column's magnitudes.
template <typename Matrix>
double norm(const Matrix& matrix) {
    return (Eigen::RowVectorXd::Ones(matrix.rows()) * matrix.cwiseAbs()).maxCoeff();
}

/// Takes away what lies along the basis: from the left, and from the right.
MatrixXd without(const MatrixXd& basis, MatrixXd matrix) {
    matrix -= basis * (basis.transpose() * matrix).eval();
    matrix -= (matrix * basis).eval() * basis.transpose();
    return matrix;
}

}  // namespace

SparseNormal::SparseNormal(const Network& network, const std::vector<plan::Point>& at) {
    const auto size = Index(2 * network.points);
    Entries entries;
    right_ = VectorXd::Zero(size);
    for (const Observation& seen : network.seen) add(seen, equation_of(seen, at), entries, right_);
    matrix_.resize(size, size);
    matrix_.setFromTriplets(entries.begin(), entries.end());
    sum_of_squares = fitup::calculations::sum_of_squares(network, at);
}

Sparse SparseNormal::pinned(const MatrixXd& basis) const {
    Sparse held = matrix_;
    const double strength = diagonal_mean(matrix_);
    // A coordinate without any reading still needs its place on the diagonal.
    for (Index i = 0; i < held.rows(); ++i) held.coeffRef(i, i) += 0.0;
    if (basis.cols() == 0) return held;
    const Eigen::ColPivHouseholderQR<MatrixXd> most(basis.transpose());
    for (Index k = 0; k < basis.cols(); ++k) {
        const Index row = most.colsPermutation().indices()[k];
        held.coeffRef(row, row) += strength;
    }
    return held;
}

VectorXd SparseNormal::step(const Network& network, const std::vector<plan::Point>& at,
                            double damping) const {
    const MatrixXd basis = free_basis(network, at, free_motions(network));
    Sparse held = pinned(basis);
    for (Index i = 0; i < held.rows(); ++i) held.coeffRef(i, i) *= 1.0 + damping;
    const Eigen::SimplicialLLT<Sparse> factor(held);
    if (factor.info() != Eigen::Success) return {};
    // Any step that meets the readings will do; the one without free motions is the least.
    const VectorXd step = factor.solve(right_);
    return step - basis * (basis.transpose() * step);
}

std::optional<std::vector<double>> SparseNormal::covariance(const Network& network,
                                                            const std::vector<plan::Point>& at,
                                                            double least_condition) const {
    const MatrixXd basis = free_basis(network, at, free_motions(network));
    const Eigen::SimplicialLLT<Sparse> factor(pinned(basis));
    if (factor.info() != Eigen::Success) return std::nullopt;
    MatrixXd inverse = without(basis, factor.solve(MatrixXd::Identity(matrix_.rows(), matrix_.rows())));
    if (!inverse.allFinite() || !(1.0 / (norm(matrix_) * norm(inverse)) > least_condition))
        return std::nullopt;
    inverse = (0.5 * (inverse + inverse.transpose())).eval();
    return std::vector<double>(inverse.data(), inverse.data() + inverse.size());
}

}  // namespace fitup::calculations
