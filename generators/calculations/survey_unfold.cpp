#include "calculations/survey_unfold.hpp"

#include <Eigen/Dense>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>

#include "plan/vector.hpp"

namespace fitup::calculations {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;
using plan::Point;

constexpr double slack_sigmas = 5.0, slack_share = 0.001;
constexpr double most_against = 25.0;
/// Points that ways are measured from: more add nothing to a plane picture.
constexpr std::size_t most_pivots = 60;

/// A point a row, its coordinates in 2 or 3 columns.
using Rows = MatrixXd;

/// Springs between points in a plane or in space, let go.
class Springs {
  public:
    Springs(const SpanGraph& graph, Rows at) : graph_(graph), at_(std::move(at)) {}

    /// Some steps.
    /// @param scale_mm  misfit at which a span's weight falls; 0: all count alike
    /// @param press     weight of the third coordinate against the springs
    void ease(int steps, double scale_mm, double press) {
        scale_mm_ = scale_mm;
        press_ = press;
        double sum = assemble();
        double damping = 1e-3;
        for (int i = 0; i < steps && damping < 1e6; ++i) {
            const Rows before = at_;
            const VectorXd step = solved(damping);
            const Index dims = at_.cols();
            for (Index p = 0; p < at_.rows(); ++p) at_.row(p) += step.segment(p * dims, dims).transpose();
            const double next = assemble();
            if (next < sum) {
                const bool still = sum - next < 1e-9 * (sum + 1e-12);
                sum = next;
                damping = std::max(damping * 0.2, 1e-7);
                if (still) return;
            } else {
                at_ = before;
                sum = assemble();
                damping *= 10.0;
            }
        }
    }

    const Rows& at() const { return at_; }
    void set(Rows at) {
        at_ = std::move(at);
        is_analysed_ = false;
    }

  private:
    /// Weight and cost of a misfit (Geman and McClure's, from memory).
    double weight(double miss) const {
        if (scale_mm_ <= 0.0) return 1.0;
        const double q = 1.0 / (1.0 + (miss / scale_mm_) * (miss / scale_mm_));
        return q * q;
    }
    double cost(double miss) const {
        if (scale_mm_ <= 0.0) return miss * miss;
        return miss * miss / (1.0 + (miss / scale_mm_) * (miss / scale_mm_));
    }

    /// @returns the cost
    double assemble() {
        const Index dims = at_.cols(), size = at_.rows() * dims;
        triplets_.clear();
        right_ = VectorXd::Zero(size);
        double sum = 0.0;
        for (const Observation& span : graph_.spans) {
            const VectorXd between = (at_.row(span.b) - at_.row(span.a)).transpose();
            const double length = std::max(between.norm(), 1e-9);
            const VectorXd along = between / length;
            const double miss = span.value - length, w = weight(miss);
            sum += cost(miss);
            for (Index i = 0; i < dims; ++i) {
                right_[span.b * dims + i] += w * miss * along[i];
                right_[span.a * dims + i] -= w * miss * along[i];
                for (Index j = 0; j < dims; ++j) add_block(span, i, j, w * along[i] * along[j], dims);
            }
        }
        if (dims == 3) sum += press(dims);
        for (Index i = 0; i < size; ++i) triplets_.emplace_back(i, i, 1e-9);
        normal_.resize(size, size);
        normal_.setFromTriplets(triplets_.begin(), triplets_.end());
        return sum;
    }

    void add_block(const Observation& span, Index i, Index j, double rate, Index dims) {
        const Index a = span.a * dims, b = span.b * dims;
        triplets_.emplace_back(a + i, a + j, rate);
        triplets_.emplace_back(b + i, b + j, rate);
        triplets_.emplace_back(a + i, b + j, -rate);
        triplets_.emplace_back(b + i, a + j, -rate);
    }

    double press(Index dims) {
        double sum = 0.0;
        for (Index p = 0; p < at_.rows(); ++p) {
            sum += press_ * at_(p, 2) * at_(p, 2);
            right_[p * dims + 2] -= press_ * at_(p, 2);
            triplets_.emplace_back(p * dims + 2, p * dims + 2, press_);
        }
        return sum;
    }

    VectorXd solved(double damping) {
        Eigen::SparseMatrix<double> damped = normal_;
        for (Index i = 0; i < damped.rows(); ++i) damped.coeffRef(i, i) += damping;
        if (!is_analysed_) factor_.analyzePattern(damped);
        is_analysed_ = true;
        factor_.factorize(damped);
        return factor_.solve(right_);
    }

    const SpanGraph& graph_;
    Rows at_;
    double scale_mm_ = 0.0, press_ = 0.0;
    std::vector<Eigen::Triplet<double>> triplets_;
    Eigen::SparseMatrix<double> normal_;
    VectorXd right_;
    Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor_;
    bool is_analysed_ = false;
};

double median_span_mm(const SpanGraph& graph) {
    std::vector<double> lengths;
    for (const Observation& span : graph.spans) lengths.push_back(span.value);
    std::ranges::nth_element(lengths, lengths.begin() + std::ptrdiff_t(lengths.size() / 2));
    return lengths[lengths.size() / 2];
}

/// Ways from points as far from one another as can be, a column each; no columns where some can't be reached.
MatrixXd ways_from_pivots(const SpanGraph& graph) {
    const std::size_t count = graph.links.size(), pivots = std::min(count, most_pivots);
    MatrixXd ways = MatrixXd::Zero(Index(count), Index(pivots));
    std::vector<double> nearest(count, 1e300);
    std::size_t next = 0;
    for (std::size_t k = 0; k < pivots; ++k) {
        const std::vector<double> from = ways_from(graph, next);
        for (std::size_t i = 0; i < count; ++i) {
            if (!std::isfinite(from[i])) return {};
            ways(Index(i), Index(k)) = from[i];
            nearest[i] = std::min(nearest[i], from[i]);
        }
        next = std::size_t(std::ranges::max_element(nearest) - nearest.begin());
    }
    return ways;
}

/// Coordinates whose distances come near these ways (classical scaling), up to a size.
Rows scaled(const MatrixXd& ways, Index dims) {
    MatrixXd squares = ways.array().square();
    const double mean = squares.mean();
    const Eigen::RowVectorXd of_columns = squares.colwise().mean();
    const VectorXd of_rows = squares.rowwise().mean();
    MatrixXd centred = -0.5 * (((squares.rowwise() - of_columns).colwise() - of_rows).array() + mean);
    const Eigen::SelfAdjointEigenSolver<MatrixXd> solver(centred.transpose() * centred);
    Rows at(ways.rows(), dims);
    for (Index k = 0; k < dims; ++k) {
        const Index column = ways.cols() - 1 - k;
        const double value = std::max(solver.eigenvalues()[column], 1e-12);
        at.col(k) = centred * solver.eigenvectors().col(column) / std::pow(value, 0.25);
    }
    return at;
}

void fit_size(const SpanGraph& graph, Rows& at) {
    double both = 0.0, own = 0.0;
    for (const Observation& span : graph.spans) {
        const double length = (at.row(span.b) - at.row(span.a)).norm();
        both += length * span.value;
        own += length * length;
    }
    if (own > 0.0) at *= both / own;
}

std::vector<Point> as_points(const Rows& at) {
    std::vector<Point> points;
    for (Index i = 0; i < at.rows(); ++i) points.push_back({at(i, 0), at(i, 1)});
    return points;
}

Rows as_rows(const std::vector<Point>& points) {
    Rows at(Index(points.size()), 2);
    for (std::size_t i = 0; i < points.size(); ++i) at.row(Index(i)) << points[i].x_mm, points[i].y_mm;
    return at;
}

/// Eased in space while the third coordinate is pressed to nothing, and then in the plane.
std::vector<Point> pressed(const SpanGraph& graph, Rows at) {
    Springs springs(graph, std::move(at));
    for (const double press : {0.001, 0.003, 0.01, 0.03, 0.1, 0.3, 1.0, 3.0}) springs.ease(6, 0.0, press);
    springs.set(springs.at().leftCols(2));
    springs.ease(30, 0.0, 0.0);
    return as_points(springs.at());
}

}  // namespace

double span_slack_mm(const Observation& span) {
    return std::max(slack_sigmas * span.sigma, slack_share * span.value);
}

double span_against(const Observation& span, const std::vector<Point>& at) {
    return miss_against(span, plan::distance_mm(at[std::size_t(span.a)], at[std::size_t(span.b)]));
}

double miss_against(const Observation& span, double length_mm) {
    const double share = (span.value - length_mm) / span_slack_mm(span);
    return std::min(share * share, most_against);
}

double spans_against(const SpanGraph& graph, const std::vector<Point>& at) {
    double sum = 0.0;
    for (const Observation& span : graph.spans) sum += span_against(span, at);
    return sum;
}

std::vector<Point> robustly_settled(const SpanGraph& graph, std::vector<Point> at) {
    Springs springs(graph, as_rows(at));
    const double median_mm = median_span_mm(graph);
    for (double scale_mm = 0.1 * median_mm; scale_mm > 0.002 * median_mm; scale_mm *= 0.4)
        springs.ease(8, scale_mm, 0.0);
    return as_points(springs.at());
}

std::vector<Point> robustly_settled_near(const SpanGraph& graph, std::vector<Point> at) {
    Springs springs(graph, as_rows(at));
    const double median_mm = median_span_mm(graph);
    for (const double share : {0.02, 0.004}) springs.ease(8, share * median_mm, 0.0);
    return as_points(springs.at());
}

std::vector<Point> briefly_settled(const SpanGraph& graph, std::vector<Point> at) {
    Springs springs(graph, as_rows(at));
    springs.ease(5, 0.0, 0.0);
    return as_points(springs.at());
}

std::vector<Point> unfolded(const SpanGraph& graph, double bulge) {
    const MatrixXd ways = ways_from_pivots(graph);
    if (ways.cols() < 3) return {};
    Rows at = scaled(ways, 3);
    fit_size(graph, at);
    at.col(2) *= bulge;
    return pressed(graph, std::move(at));
}

std::vector<Point> pressed_flat(const SpanGraph& graph, const std::vector<Point>& at,
                                const std::vector<double>& height) {
    Rows lifted(Index(at.size()), 3);
    lifted.leftCols(2) = as_rows(at);
    const double median_mm = median_span_mm(graph);
    for (std::size_t i = 0; i < height.size(); ++i) lifted(Index(i), 2) = median_mm * height[i];
    return pressed(graph, std::move(lifted));
}

}  // namespace fitup::calculations
