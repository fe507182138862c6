#include "calculations/survey_exchanges.hpp"

#include <algorithm>
#include <cmath>

#include "calculations/survey_trial.hpp"
#include "calculations/survey_words.hpp"

namespace fitup::calculations {

namespace {

/// Another exchange whose sum of squares is no more than this above explains the readings as well (5 % of
/// chi-squared with one degree of freedom).
constexpr double as_well = 3.84;

/// Pairs of observations whose values change places.
struct Exchange {
    std::vector<std::pair<std::size_t, std::size_t>> pairs;
    std::vector<int> points;
};

class Exchanges {
  public:
    Exchanges(const Survey& survey, const Network& network, double critical,
              const std::vector<std::vector<plan::Point>>& starts)
        : survey_(survey), network_(network), critical_(critical), starts_(starts) {
        const Trial all = trial_of(network, starts);
        coordinates_.resize(network.points);
        suspicious_.resize(network.points);
        for (std::size_t i = 0; i < network.seen.size(); ++i) {
            const Observation& seen = network.seen[i];
            if (seen.quantity != Quantity::x && seen.quantity != Quantity::y) continue;
            const auto point = std::size_t(seen.a);
            coordinates_[point][seen.quantity == Quantity::x ? 0 : 1] = i;
            if (all.held && std::abs(all.normalised[i]) > critical) suspicious_[point] = true;
        }
    }

    std::optional<std::vector<Suspect>> run() {
        for (int a = 0; a < int(network_.points); ++a) {
            if (!both(a)) continue;
            if (is_suspicious(a)) judge({{{*of(a)[0], *of(a)[1]}}, {a}});
            for (int b = a + 1; b < int(network_.points); ++b)
                if (both(b) && (is_suspicious(a) || is_suspicious(b)))
                    judge({{{*of(a)[0], *of(b)[0]}, {*of(a)[1], *of(b)[1]}}, {a, b}});
        }
        if (!best_ || second_ < least_ + as_well) return std::nullopt;
        return suspects(*best_);
    }

  private:
    using Both = std::array<std::optional<std::size_t>, 2>;
    const Both& of(int point) const { return coordinates_[std::size_t(point)]; }
    bool both(int point) const { return of(point)[0] && of(point)[1]; }
    bool is_suspicious(int point) const { return suspicious_[std::size_t(point)]; }

    Network exchanged(const Exchange& exchange) const {
        Network network = network_;
        for (const auto& [i, j] : exchange.pairs) std::swap(network.seen[i].value, network.seen[j].value);
        return network;
    }

    /// Settled also from where the exchanged coordinates put the points.
    Trial trial(const Exchange& exchange) const {
        const Network network = exchanged(exchange);
        std::vector<std::vector<plan::Point>> starts = starts_;
        starts.push_back(starts_.front());
        for (const int point : exchange.points)
            starts.back()[std::size_t(point)] = {network.seen[*of(point)[0]].value,
                                                 network.seen[*of(point)[1]].value};
        return trial_of(network, starts);
    }

    void judge(const Exchange& exchange) {
        const Trial tried = trial(exchange);
        if (!tried.held || tried.worst > critical_) return;
        if (tried.sum_of_squares < least_) {
            second_ = least_;
            least_ = tried.sum_of_squares;
            best_ = exchange;
        } else {
            second_ = std::min(second_, tried.sum_of_squares);
        }
    }

    std::vector<Suspect> suspects(const Exchange& exchange) const {
        const std::string text =
            exchange.points.size() == 1
                ? "x and y of " + id_of(survey_, exchange.points[0]) + " in each other's place"
                : "coordinates of " + ids_text(survey_, exchange.points) + " at each other's id";
        const Trial rest = trial(exchange);
        std::vector<Suspect> all;
        for (const auto& [i, j] : exchange.pairs)
            for (const auto& [here, there] : {std::pair{i, j}, std::pair{j, i}}) {
                const Observation& seen = network_.seen[here];
                const double fitted = equation_of(seen, rest.at_mm).fitted;
                all.push_back({seen.reading, misfit(seen, fitted), text, network_.seen[there].value, {}});
            }
        std::ranges::stable_sort(all, {}, [](const Suspect& each) { return -std::abs(each.by); });
        return all;
    }

    const Survey& survey_;
    const Network& network_;
    double critical_;
    const std::vector<std::vector<plan::Point>>& starts_;
    std::vector<Both> coordinates_;
    std::vector<char> suspicious_;
    std::optional<Exchange> best_;
    double least_ = 1e300, second_ = 1e300;
};

}  // namespace

std::optional<std::vector<Suspect>> exchange_of(const Survey& survey, const Network& network, double critical,
                                                const std::vector<std::vector<plan::Point>>& starts) {
    return Exchanges(survey, network, critical, starts).run();
}

}  // namespace fitup::calculations
