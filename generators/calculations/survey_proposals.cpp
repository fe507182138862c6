// What to measure next, from the covariance: a reading more adds to the redundancy number of another the
// square of the covariance between what the fit gives for both, over the variances of the reading and its
// misfit.
#include "calculations/survey_proposals.hpp"

#include <algorithm>
#include <cmath>

#include "calculations/survey_residuals.hpp"
#include "calculations/survey_words.hpp"

namespace fitup::calculations {

namespace {

/// A redundancy number under this lets errors of 29 standard deviations pass: 1.5 mm where a reading is good
/// to 0.05.
constexpr double unchecked = 0.02;
constexpr std::size_t most_proposals = 3, most_named = 3;
/// Where nothing of a kind was measured, what a caliper of 300 mm is good for.
constexpr double usual_sigma_mm = 0.05;

/// Rates with x and y of each point, without the noughts: by number of the coordinate.
using Row = std::vector<std::pair<std::size_t, double>>;
using Column = std::vector<double>;

struct Candidate {
    int a = -1, b = -1;                 ///< as in a proposal
    std::vector<Observation> readings;  ///< one span, or x and y
};

class Proposing {
  public:
    Proposing(const Survey& survey, const Network& network, const SurveyFit& fit)
        : survey_(survey),
          network_(network),
          fit_(fit),
          covariance_(fit.covariance_mm2),
          size_(2 * network.points) {
        for (const Observation& seen : network.seen) {
            rows_.push_back(row_of(seen));
            redundancy_.push_back(fit.residuals[std::size_t(seen.reading)].redundancy);
        }
    }

    std::vector<Proposal> run() {
        std::vector<Candidate> open = candidates(false), again = candidates(true);
        std::vector<Proposal> all;
        while (all.size() < most_proposals && any_unchecked()) {
            const Candidate* best = best_of(open);
            if (best == nullptr) best = best_of(again);
            if (best == nullptr) break;
            const std::vector<double> after = redundancy_with(*best);
            all.push_back({best->a, best->b, why(*best, after)});
            take_in_all(*best, covariance_, redundancy_);
        }
        return all;
    }

  private:
    Row row_of(const Observation& seen) const {
        const ReadingEquation equation = equation_of(seen, fit_.points_mm);
        Row row;
        for (int i = 0; i < 2 * equation.count; ++i)
            row.emplace_back(2 * std::size_t(equation.point[std::size_t(i / 2)]) + std::size_t(i % 2),
                             equation.rates[std::size_t(i)]);
        return row;
    }

    bool any_unchecked() const {
        return std::ranges::any_of(redundancy_, [](double r) { return r < unchecked; });
    }

    double usual_sigma(bool span) const {
        std::vector<double> sigmas;
        for (const Observation& seen : network_.seen)
            if (seen.quantity != Quantity::angle && (seen.quantity == Quantity::span) == span)
                sigmas.push_back(seen.sigma);
        if (sigmas.empty()) return usual_sigma_mm;
        std::ranges::sort(sigmas);
        return sigmas[sigmas.size() / 2];
    }

    bool has_span(int a, int b) const {
        return std::ranges::any_of(network_.seen, [&](const Observation& seen) {
            return seen.quantity == Quantity::span && std::minmax(seen.a, seen.b) == std::minmax(a, b);
        });
    }

    bool has_coordinates_of(int point) const {
        return std::ranges::any_of(network_.seen, [&](const Observation& seen) {
            return seen.a == point && (seen.quantity == Quantity::x || seen.quantity == Quantity::y);
        });
    }

    /// Not yet measured, or measured once already.
    std::vector<Candidate> candidates(bool again) const {
        std::vector<Candidate> all;
        const double span_sigma = usual_sigma(true), sigma = usual_sigma(false);
        const bool may_place = has_coordinates(network_) && free_motions(network_) == 0;
        for (int a = 0; a < int(network_.points); ++a) {
            for (int b = a + 1; b < int(network_.points); ++b)
                if (has_span(a, b) == again)
                    all.push_back({a, b, {{Quantity::span, a, b, -1, 0.0, span_sigma, -1}}});
            if (may_place && has_coordinates_of(a) == again)
                all.push_back(
                    {a,
                     -1,
                     {{Quantity::x, a, -1, -1, 0.0, sigma, -1}, {Quantity::y, a, -1, -1, 0.0, sigma, -1}}});
        }
        return all;
    }

    Column times(const std::vector<double>& covariance, const Row& row) const {
        Column result(size_, 0.0);
        for (const auto& [j, rate] : row)
            for (std::size_t i = 0; i < size_; ++i) result[i] += covariance[j * size_ + i] * rate;
        return result;
    }

    static double dot(const Row& row, const Column& column) {
        double sum = 0.0;
        for (const auto& [i, rate] : row) sum += rate * column[i];
        return sum;
    }

    /// Takes a reading in: redundancy numbers rise.
    /// @returns the covariance's change, a column whose outer product is taken away
    Column take_in(const Observation& seen, const std::vector<double>& covariance,
                   std::vector<double>& redundancy) const {
        const Row row = row_of(seen);
        Column moved = times(covariance, row);
        const double variance = seen.sigma * seen.sigma + dot(row, moved);
        for (double& each : moved) each /= std::sqrt(variance);
        for (std::size_t i = 0; i < rows_.size(); ++i) {
            const double shared = dot(rows_[i], moved) / network_.seen[i].sigma;
            redundancy[i] += shared * shared;
        }
        return moved;
    }

    void take_in_all(const Candidate& candidate, std::vector<double>& covariance,
                     std::vector<double>& redundancy) const {
        for (const Observation& seen : candidate.readings) {
            const Column moved = take_in(seen, covariance, redundancy);
            for (std::size_t i = 0; i < size_; ++i)
                for (std::size_t j = 0; j < size_; ++j) covariance[i * size_ + j] -= moved[i] * moved[j];
        }
    }

    std::vector<double> redundancy_with(const Candidate& candidate) const {
        std::vector<double> redundancy = redundancy_;
        if (candidate.readings.size() == 1) {
            take_in(candidate.readings[0], covariance_, redundancy);
            return redundancy;
        }
        std::vector<double> covariance = covariance_;
        take_in_all(candidate, covariance, redundancy);
        return redundancy;
    }

    /// How many unchecked readings it makes show, and how well the worst of them.
    struct Worth {
        int shown = 0;
        double least = 1.0;
        bool operator>(const Worth& other) const {
            return shown > other.shown || (shown == other.shown && least > other.least + 1e-9);
        }
    };

    Worth worth_of(const Candidate& candidate) const {
        Worth worth;
        const std::vector<double> after = redundancy_with(candidate);
        for (std::size_t i = 0; i < after.size(); ++i) {
            if (redundancy_[i] >= unchecked || after[i] < unchecked) continue;
            ++worth.shown;
            worth.least = std::min(worth.least, after[i]);
        }
        return worth;
    }

    const Candidate* best_of(const std::vector<Candidate>& all) const {
        const Candidate* best = nullptr;
        Worth most;
        for (const Candidate& candidate : all) {
            const Worth worth = worth_of(candidate);
            if (worth.shown == 0 || (best != nullptr && !(worth > most))) continue;
            best = &candidate;
            most = worth;
        }
        return best;
    }

    std::string why(const Candidate& candidate, const std::vector<double>& after) const {
        std::vector<std::string> names;
        double most_now = 0.0;
        for (std::size_t i = 0; i < after.size(); ++i) {
            if (redundancy_[i] >= unchecked || after[i] < unchecked) continue;
            names.push_back(survey_.readings[std::size_t(network_.seen[i].reading)].name);
            most_now = std::max(most_now, redundancy_[i]);
        }
        std::string text = "one wrong reading of ";
        for (std::size_t i = 0; i < std::min(names.size(), most_named); ++i)
            text += (i == 0 ? "" : i + 1 == names.size() ? " or " : ", ") + names[i];
        if (names.size() > most_named) text += " or " + std::to_string(names.size() - most_named) + " more";
        return text + (most_now < no_redundancy ? " can't be seen; " : " can hardly be seen; ") +
               what(candidate) + " would show it";
    }

    std::string what(const Candidate& candidate) const {
        if (candidate.b < 0) return "x and y of " + id_of(survey_, candidate.a);
        return span_between(survey_, candidate.a, candidate.b) +
               (has_span(candidate.a, candidate.b) ? ", taken again another way," : "");
    }

    const Survey& survey_;
    const Network& network_;
    const SurveyFit& fit_;
    std::vector<double> covariance_;
    std::size_t size_;
    std::vector<Row> rows_;
    std::vector<double> redundancy_;
};

}  // namespace

std::vector<Proposal> proposals_of(const Survey& survey, const Network& network, const SurveyFit& fit) {
    const bool any = std::ranges::any_of(network.seen, [&](const Observation& seen) {
        return fit.residuals[std::size_t(seen.reading)].redundancy < unchecked;
    });
    return any ? Proposing(survey, network, fit).run() : std::vector<Proposal>{};
}

}  // namespace fitup::calculations
