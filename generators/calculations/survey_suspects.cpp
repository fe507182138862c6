#include "calculations/survey_suspects.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "calculations/survey_arrangement.hpp"
#include "calculations/survey_blunders.hpp"
#include "calculations/survey_exchanges.hpp"
#include "calculations/survey_trial.hpp"

namespace fitup::calculations {

namespace {

/// Readings whose leaving-out leaves sums of squares that differ by less (5 % of chi-squared with one degree
/// of freedom) explain a disagreement equally well.
constexpr double as_well = 3.84;
/// At the start a reading this far from the likeliest layout is left out at once; it is let in again where it
/// fits what remains.
constexpr double grossly_off_sigmas = 60.0;
constexpr std::size_t most_suspects = 12;
/// Readings with the worst tests, of which each is left out in turn.
constexpr std::size_t most_tried = 12;
/// Squared correlation of two tests under which their readings are told apart without trying.
constexpr double may_be_equal = 0.8;

using Left = std::vector<std::size_t>;  ///< indices into the network, of what is left out

Network without(const Network& network, const Left& left) {
    Network rest{network.points, {}};
    for (std::size_t i = 0; i < network.seen.size(); ++i)
        if (std::ranges::find(left, i) == left.end()) rest.seen.push_back(network.seen[i]);
    return rest;
}

class Snooping {
  public:
    Snooping(const Survey& survey, const Network& network, double critical,
             const std::vector<std::vector<plan::Point>>& starts)
        : survey_(survey), network_(network), critical_(critical), starts_(starts) {}

    Suspicion run() {
        const Trial all = trial_of(network_, starts_);
        if (all.worst <= critical_) return {{}, true, all.sum_of_squares};
        if (const auto exchange = exchange_of(survey_, network_, critical_, starts_))
            return {*exchange, true, trial_without(indices_of(*exchange)).sum_of_squares};
        return told(likeliest());
    }

  private:
    Left indices_of(const std::vector<Suspect>& suspects) const {
        Left left;
        for (std::size_t i = 0; i < network_.seen.size(); ++i)
            if (std::ranges::find(suspects, network_.seen[i].reading, &Suspect::reading) != suspects.end())
                left.push_back(i);
        return left;
    }

    Trial trial_without(const Left& left) const { return trial_of(without(network_, left), starts_); }

    /// What is grossly off the likeliest layout goes first. Where that doesn't serve, one after another.
    Left likeliest() const {
        const Left gross = grossly_off();
        Left first = gross.empty() ? gross : search(gross);
        if (first.size() == 1 && trial_without(first).worst <= critical_) return first;
        Left other = search({});
        if (first.empty() || is_better(other, first)) return other;
        return first;
    }

    bool is_better(const Left& a, const Left& b) const {
        const Trial first = trial_without(a), second = trial_without(b);
        const bool first_passes = first.worst <= critical_, second_passes = second.worst <= critical_;
        if (first_passes != second_passes) return first_passes;
        return a.size() < b.size() || (a.size() == b.size() && first.sum_of_squares < second.sum_of_squares);
    }

    Left grossly_off() const {
        Left left;
        for (std::size_t i = 0; i < network_.seen.size(); ++i) {
            const Observation& seen = network_.seen[i];
            const double miss = misfit(seen, equation_of(seen, starts_.front()).fitted);
            if (std::abs(miss) > grossly_off_sigmas * seen.sigma) left.push_back(i);
        }
        const bool enough_left = int(left.size()) < redundancy_of(network_) && left.size() <= most_suspects;
        return enough_left && trial_without(left).held ? left : Left{};
    }

    Left search(Left left) const {
        for (std::size_t round = 0; round < 2 * most_suspects; ++round) {
            if (let_in(left)) continue;
            const Trial trial = trial_without(left);
            if (!trial.held || trial.worst <= critical_ || left.size() == most_suspects) break;
            const auto next = mends_most(left, trial);
            if (!next) break;
            left.push_back(*next);
        }
        return left;
    }

    /// The reading left out that fits the rest best comes back where it passes.
    bool let_in(Left& left) const {
        const Trial trial = trial_without(left);
        std::size_t best = left.size();
        double least = critical_;
        for (std::size_t k = 0; k < left.size(); ++k) {
            const double w = std::abs(predicted(network_.seen[left[k]], trial).normalised);
            if (w < least) best = k, least = w;
        }
        if (best == left.size()) return false;
        left.erase(left.begin() + std::ptrdiff_t(best));
        return true;
    }

    std::optional<std::size_t> mends_most(const Left& left, const Trial& trial) const {
        std::optional<std::size_t> best;
        double least = std::numeric_limits<double>::infinity();
        for (const std::size_t i : worst_of(left, trial)) {
            const double sum = sum_without(left, i);
            if (sum < least) best = i, least = sum;
        }
        return best;
    }

    /// The counted readings whose tests are worst.
    Left worst_of(const Left& left, const Trial& trial) const {
        std::vector<std::pair<double, std::size_t>> all;
        std::size_t k = 0;
        for (std::size_t i = 0; i < network_.seen.size(); ++i) {
            if (std::ranges::find(left, i) != left.end()) continue;
            const double w = std::abs(trial.normalised[k++]);
            if (w > 0.0) all.emplace_back(-w, i);
        }
        std::ranges::sort(all);
        Left worst;
        for (std::size_t i = 0; i < std::min(all.size(), most_tried); ++i) worst.push_back(all[i].second);
        return worst;
    }

    double sum_without(Left left, std::size_t one_more) const {
        left.push_back(one_more);
        return sum_of(without(network_, left), starts_);
    }

    Suspicion told(const Left& left) const {
        Suspicion result;
        const Trial rest = trial_without(left);
        result.rest_agrees = rest.held && rest.worst <= critical_;
        result.rest_squares = rest.sum_of_squares;
        std::vector<std::pair<double, Suspect>> all;
        for (const std::size_t i : left) {
            const Prediction here = predicted(network_.seen[i], rest);
            all.emplace_back(std::abs(here.normalised), suspect(left, i));
        }
        std::ranges::stable_sort(all, {}, [](const auto& each) { return -each.first; });
        for (auto& each : all) result.suspects.push_back(std::move(each.second));
        return result;
    }

    /// One suspect, and those that could stand in its place. The one that a usual blunder explains goes
    /// first.
    Suspect suspect(const Left& left, std::size_t index) const {
        Left others = left;
        std::erase(others, index);
        std::vector<std::size_t> equal{index};
        const double least = sum_without(others, index);
        for (const std::size_t j : correlated_with(index, others, left))
            if (sum_without(others, j) < least + as_well && held_without(others, j)) equal.push_back(j);
        std::vector<Suspect> explained;
        explained.reserve(equal.size());
        for (const std::size_t i : equal) explained.push_back(single(others, i));
        const auto has_blunder = [](const Suspect& each) { return !each.blunder.empty(); };
        const auto named = std::ranges::find_if(explained, has_blunder);
        Suspect chosen =
            has_blunder(explained.front()) || named == explained.end() ? explained.front() : *named;
        for (const Suspect& each : explained)
            if (each.reading != chosen.reading) chosen.or_else.push_back(each.reading);
        return chosen;
    }

    /// Counted readings whose tests go nearly the way of this one's, at the places that the rest give.
    Left correlated_with(std::size_t index, const Left& others, const Left& left) const {
        const Network network = without(network_, others);
        const std::vector<double> squares =
            test_correlations(network, trial_without(left).at_mm, network_.seen[index].reading);
        Left all;
        std::size_t k = 0;
        for (std::size_t j = 0; j < network_.seen.size(); ++j) {
            if (std::ranges::find(others, j) != others.end()) continue;
            if (squares[k++] > may_be_equal && j != index) all.push_back(j);
        }
        return all;
    }

    bool held_without(Left left, std::size_t one_more) const {
        left.push_back(one_more);
        return trial_without(left).held;
    }

    /// Without the reading the rest may fit two arrangements; the one that a usual blunder leads to is meant.
    Suspect single(Left left, std::size_t index) const {
        left.push_back(index);
        const Network rest = without(network_, left);
        const double least = sum_of(rest, starts_);
        std::optional<Suspect> first;
        for (const auto& start : starts_) {
            const Trial trial = trial_of(rest, {start});
            if (!trial.held || trial.sum_of_squares > least + as_well) continue;
            Suspect here = against(trial, index);
            if (!here.blunder.empty()) return here;
            if (!first) first = std::move(here);
        }
        return first.value_or(Suspect{network_.seen[index].reading, 0.0, {}, {}, {}});
    }

    Suspect against(const Trial& rest, std::size_t index) const {
        const Observation& seen = network_.seen[index];
        const Prediction here = predicted(seen, rest);
        const auto reading = std::size_t(seen.reading);
        const Blunder blunder =
            blunder_of(survey_, reading, {seen.value - here.miss, here.sigma, &rest.at_mm});
        return {seen.reading, here.miss, blunder.text, blunder.corrected, {}};
    }

    const Survey& survey_;
    const Network& network_;
    double critical_;
    const std::vector<std::vector<plan::Point>>& starts_;
};

}  // namespace

Suspicion suspects_of(const Survey& survey, const Network& network, double critical,
                      const std::vector<std::vector<plan::Point>>& starts) {
    return Snooping(survey, network, critical, starts).run();
}

}  // namespace fitup::calculations
