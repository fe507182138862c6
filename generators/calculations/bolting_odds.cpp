#include "calculations/bolting_odds.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "base/blocks.hpp"
#include "base/random.hpp"
#include "base/text.hpp"

namespace fitup::calculations {

namespace {

/// Samples that share one stream of random numbers.
constexpr std::size_t block_size = 1024;
/// A zone's radius in standard deviations, as for the tolerances of a stack.
constexpr double deviations_in_radius = 3.0;

/// A factor L with L L^T the covariance; eigenvalues that rounding made negative count as 0 (a free network's
/// covariance has some that are 0).
Eigen::MatrixXd factor_of(const std::vector<double>& covariance_mm2, std::size_t places) {
    const Eigen::Index size = Eigen::Index(2 * places);
    if (covariance_mm2.empty()) return {};
    using Rows = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
    const Eigen::Map<const Rows> covariance(covariance_mm2.data(), size, size);
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver(covariance);
    return solver.eigenvectors() * solver.eigenvalues().cwiseMax(0.0).cwiseSqrt().asDiagonal();
}

class Sampler {
  public:
    Sampler(const std::vector<FastenerPair>& pairs, const Doubt& doubt)
        : pairs_(pairs),
          seed_(doubt.seed),
          made_sigma_mm_(doubt.made_within_mm / 2.0 / deviations_in_radius),
          factor_(factor_of(doubt.covariance_mm2, pairs.size())) {}

    /// How many of so many samples bolt up.
    std::size_t block(std::size_t index, std::size_t samples) const {
        Random random(seed_, index);
        std::vector<FastenerPair> sample = pairs_;
        Eigen::VectorXd normal(factor_.cols());
        std::size_t good = 0;
        for (std::size_t i = 0; i < samples; ++i) {
            draw(random, normal, sample);
            good += bolts_up(sample) ? 1 : 0;
        }
        return good;
    }

  private:
    void draw(Random& random, Eigen::VectorXd& normal, std::vector<FastenerPair>& sample) const {
        for (double& one : normal) one = random.normal();
        const Eigen::VectorXd off = factor_ * normal;
        for (std::size_t k = 0; k < pairs_.size(); ++k) {
            sample[k] = pairs_[k];
            if (off.size() > 0) {
                sample[k].first_mm.x_mm += off[Eigen::Index(2 * k)];
                sample[k].first_mm.y_mm += off[Eigen::Index(2 * k + 1)];
            }
            if (made_sigma_mm_ == 0.0) continue;
            sample[k].second_mm.x_mm += made_sigma_mm_ * random.normal();
            sample[k].second_mm.y_mm += made_sigma_mm_ * random.normal();
        }
    }

    const std::vector<FastenerPair>& pairs_;
    unsigned long long seed_;
    double made_sigma_mm_;
    Eigen::MatrixXd factor_;
};

}  // namespace

Odds odds_of(const std::vector<FastenerPair>& pairs, const Doubt& doubt) {
    const Sampler sampler(pairs, doubt);
    const std::size_t blocks = (doubt.samples + block_size - 1) / block_size;
    const auto counts = for_all_blocks<std::size_t>(blocks, [&](std::size_t i) {
        return sampler.block(i, std::min(block_size, doubt.samples - i * block_size));
    });
    std::size_t good = 0;
    for (const std::size_t count : counts) good += count;
    const double n = double(doubt.samples), k = double(good);
    Odds odds{k / n, 0.0, doubt.samples};
    // Laplace's rule of succession: the spread of the probability given k of n.
    odds.standard_error = std::sqrt((k + 1.0) * (n - k + 1.0) / ((n + 2.0) * (n + 2.0) * (n + 3.0)));
    return odds;
}

std::string chance_text(const Odds& odds) {
    if (odds.probability >= 0.99995) return "more than 99.99 %";
    if (odds.probability < 0.00005) return "less than 0.01 %";
    return short_text(100.0 * odds.probability, 2) + " % (+- " + short_text(100.0 * odds.standard_error, 2) +
           ")";
}

}  // namespace fitup::calculations
