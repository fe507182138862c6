#include "calculations/linkage_solve.hpp"

#include <nlopt.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <memory>
#include <numbers>

#include "base/units.hpp"
#include "calculations/chain.hpp"
#include "calculations/linkage_positions.hpp"

namespace fitup::calculations {

namespace {

constexpr double never = std::numeric_limits<double>::infinity();

/// Inputs of the travel at which the chain must close; the search can't look at every one. What it finds is
/// walked finely before it is told.
constexpr int closing_samples = 9;
constexpr int fine_samples = 181;
/// How near to a dead point a solution may come: cosine between the driven arm and its farthest reach.
constexpr double most_reach = 1.0 - 1e-4;
constexpr int screened = 3000;
constexpr int starts = 24;
constexpr int most_evaluations = 300;

/// How near each loop is to opening at an input: over 1 it is open.
double reach_of(const Loop& loop, const Vector& pin) {
    const Equation e = equation_of(loop, pin);
    const double size = std::hypot(e.p, e.q);
    return size > 0.0 ? std::abs(e.c) / size : never;
}

double worst_reach(const Chain& chain, double input_rad) {
    Turn turn{std::cos(input_rad), std::sin(input_rad)};
    double worst = 0.0;
    for (std::size_t i = 0; i < chain.loops.size(); ++i) {
        const Vector pin = chain.driving[i].at(turn);
        worst = std::max(worst, reach_of(chain.loops[i], pin));
        turn = close(chain.loops[i], pin).turn;
    }
    return worst;
}

/// The i-th of some inputs spread evenly over the travel.
double spread_input(const Linkage& linkage, int i, int samples) {
    const auto travel = input_travel(linkage);
    const double share = double(i) / (samples - 1);
    return travel[0].radians() * (1.0 - share) + travel[1].radians() * share;
}

double worst_reach_over_travel(const Linkage& linkage, const Chain& chain, int samples) {
    double worst = 0.0;
    for (int i = 0; i < samples; ++i)
        worst = std::max(worst, worst_reach(chain, spread_input(linkage, i, samples)));
    return worst;
}

double error_deg(const Chain& chain, const WantedPosition& position) {
    const Pose pose = pose_at(chain, position.input.radians());
    const double got_deg = std::atan2(pose.turns.back().sin, pose.turns.back().cos) * deg_per_rad;
    return std::remainder(got_deg - position.output.degrees(), 360.0);
}

double worst_with(const Linkage& linkage, const Chain& chain) {
    double worst = 0.0;
    for (const WantedPosition& position : linkage.positions)
        worst = std::max(worst, normalised_error(error_deg(chain, position), position.below.degrees(),
                                                 position.above.degrees()));
    return worst;
}

void set_values(Linkage& linkage, const std::vector<Variation>& unknowns, const double* values) {
    for (std::size_t i = 0; i < unknowns.size(); ++i) set_value(linkage, unknowns[i], values[i]);
}

/// One search from one start, on one branch.
class Search {
  public:
    Search(const Linkage& linkage, const std::vector<Variation>& unknowns, std::vector<double> branches)
        : linkage_(linkage), unknowns_(unknowns), branches_(std::move(branches)) {}

    /// Values at which the worst error is least near `start`.
    std::vector<double> run(std::vector<double> start) {
        const std::size_t n = unknowns_.size();
        const std::unique_ptr<nlopt_opt_s, decltype(&nlopt_destroy)> optimiser(
            nlopt_create(NLOPT_LD_SLSQP, unsigned(n + 1)), nlopt_destroy);
        std::vector<double> low(n + 1, 0.0), high(n + 1, 1e6);
        for (std::size_t i = 0; i < n; ++i) {
            low[i] = dimension_of(linkage_, unknowns_[i]).between->least;
            high[i] = dimension_of(linkage_, unknowns_[i]).between->most;
        }
        nlopt_set_lower_bounds(optimiser.get(), low.data());
        nlopt_set_upper_bounds(optimiser.get(), high.data());
        nlopt_set_min_objective(optimiser.get(), least_t, this);
        const std::vector<double> tolerances(constraint_count(), 1e-10);
        nlopt_add_inequality_mconstraint(optimiser.get(), unsigned(constraint_count()), constraints, this,
                                         tolerances.data());
        nlopt_set_xtol_rel(optimiser.get(), 1e-13);
        nlopt_set_maxeval(optimiser.get(), most_evaluations);
        start.push_back(std::min(1e5, worst_at(start.data())));
        double least = 0.0;
        // A search that ends early still leaves its best values; they are judged by themselves afterwards.
        nlopt_optimize(optimiser.get(), start.data(), &least);
        start.pop_back();
        return start;
    }

  private:
    std::size_t constraint_count() const { return 2 * linkage_.positions.size() + closing_samples; }

    double worst_at(const double* values) {
        set_values(linkage_, unknowns_, values);
        return worst_with(linkage_, chain_of(linkage_, branches_));
    }

    static double least_t(unsigned count, const double* x, double* gradient, void*) {
        if (gradient != nullptr) {
            std::fill(gradient, gradient + count, 0.0);
            gradient[count - 1] = 1.0;
        }
        return x[count - 1];
    }

    /// Errors in degrees, two a position, and the reach at some inputs, without t.
    void evaluate(const double* values, std::vector<double>& result) {
        set_values(linkage_, unknowns_, values);
        const Chain chain = chain_of(linkage_, branches_);
        result.clear();
        for (const WantedPosition& position : linkage_.positions)
            result.push_back(error_deg(chain, position));
        for (int i = 0; i < closing_samples; ++i)
            result.push_back(worst_reach(chain, spread_input(linkage_, i, closing_samples)));
    }

    static void constraints(unsigned count, double* result, unsigned n, const double* x, double* gradient,
                            void* data) {
        static_cast<Search*>(data)->constrain(count, result, n, x, gradient);
    }

    void constrain(unsigned count, double* result, unsigned n, const double* x, double* gradient) {
        const std::size_t positions = linkage_.positions.size();
        evaluate(x, here_);
        if (gradient != nullptr) std::fill(gradient, gradient + std::size_t(count) * n, 0.0);
        for (std::size_t i = 0; i < positions; ++i) {
            const double above_deg = linkage_.positions[i].above.degrees();
            const double below_deg = linkage_.positions[i].below.degrees();
            result[2 * i] = here_[i] - x[n - 1] * above_deg;
            result[2 * i + 1] = -here_[i] - x[n - 1] * below_deg;
            if (gradient == nullptr) continue;
            gradient[(2 * i) * n + n - 1] = -above_deg;
            gradient[(2 * i + 1) * n + n - 1] = -below_deg;
        }
        for (std::size_t i = 0; i < closing_samples; ++i)
            result[2 * positions + i] = here_[positions + i] - most_reach;
        if (gradient != nullptr) differentiate(n, x, gradient);
    }

    /// Central differences: the errors are smooth, and a chain that is open on the way still has a direction.
    void differentiate(unsigned n, const double* x, double* gradient) {
        constexpr double step = 1e-4;
        const std::size_t positions = linkage_.positions.size();
        std::vector<double> values(x, x + n - 1);
        for (std::size_t j = 0; j + 1 < n; ++j) {
            values[j] = x[j] + step;
            evaluate(values.data(), more_);
            values[j] = x[j] - step;
            evaluate(values.data(), less_);
            values[j] = x[j];
            for (std::size_t i = 0; i < positions; ++i) {
                const double rate = std::remainder(more_[i] - less_[i], 360.0) / (2.0 * step);
                gradient[(2 * i) * n + j] = rate;
                gradient[(2 * i + 1) * n + j] = -rate;
            }
            for (std::size_t i = 0; i < closing_samples; ++i)
                gradient[(2 * positions + i) * n + j] =
                    (more_[positions + i] - less_[positions + i]) / (2.0 * step);
        }
    }

    Linkage linkage_;
    const std::vector<Variation>& unknowns_;
    std::vector<double> branches_;
    std::vector<double> here_, more_, less_;
};

/// Halton's sequence in the base of the n-th prime: fills a box evenly, the same every time.
double halton(int index, std::size_t dimension) {
    constexpr std::array primes{2,  3,  5,  7,  11, 13, 17, 19, 23, 29,  31,  37,  41,  43,  47,  53,
                                59, 61, 67, 71, 73, 79, 83, 89, 97, 101, 103, 107, 109, 113, 127, 131};
    const int base = primes[dimension % primes.size()];
    double share = 1.0, value = 0.0;
    for (int i = index; i > 0; i /= base) {
        share /= base;
        value += share * (i % base);
    }
    return value;
}

struct Start {
    std::vector<double> values;
    double cost = 0.0;
};

/// How promising a linkage is before any search: its worst error, or how far it is from closing.
double screening_cost(const Linkage& linkage) {
    const auto branches = branches_of(linkage);
    if (!branches) return 1e9 + pose_at(chain_of(linkage, {}), 0.0).gap_mm;
    const Chain chain = chain_of(linkage, *branches);
    const double reach = worst_reach_over_travel(linkage, chain, closing_samples);
    return reach > 1.0 ? 1e6 * reach : worst_with(linkage, chain);
}

std::vector<Start> promising_starts(Linkage linkage, const std::vector<Variation>& unknowns) {
    std::vector<Start> all;
    for (int i = 0; i < screened; ++i) {
        Start start;
        for (std::size_t j = 0; j < unknowns.size(); ++j) {
            const Bounds between = *dimension_of(linkage, unknowns[j]).between;
            start.values.push_back(
                i == 0 ? std::clamp(value_of(linkage, unknowns[j]), between.least, between.most)
                       : between.least + (between.most - between.least) * halton(i, j));
        }
        set_values(linkage, unknowns, start.values.data());
        start.cost = screening_cost(linkage);
        all.push_back(std::move(start));
    }
    std::stable_sort(all.begin(), all.end(), [](const Start& a, const Start& b) { return a.cost < b.cost; });
    all.resize(starts);
    return all;
}

std::vector<double> branches_or_first(const Linkage& linkage) {
    return branches_of(linkage).value_or(std::vector<double>(linkage.rods.size(), 1.0));
}

}  // namespace

double worst_of(const Linkage& linkage) {
    const auto branches = branches_of(linkage);
    if (!branches) return never;
    const Chain chain = chain_of(linkage, *branches);
    if (worst_reach_over_travel(linkage, chain, fine_samples) > 1.0) return never;
    for (const WantedPosition& position : linkage.positions) {
        if (pose_at(chain, position.input.radians()).gap_mm > 0.0) return never;
    }
    return worst_with(linkage, chain);
}

std::optional<Solution> solve(const Linkage& linkage, const LinkageProgress& progress) {
    const std::vector<Variation> unknowns = unknowns_of(linkage);
    if (unknowns.empty()) {
        const auto branches = branches_of(linkage);
        return branches ? std::optional(Solution{linkage, *branches, worst_of(linkage)}) : std::nullopt;
    }
    progress("looking for starts");
    std::optional<Solution> best;
    for (const Start& start : promising_starts(linkage, unknowns)) {
        progress("solving");
        Linkage candidate = linkage;
        set_values(candidate, unknowns, start.values.data());
        Search search(candidate, unknowns, branches_or_first(candidate));
        const std::vector<double> found = search.run(start.values);
        for (const std::vector<double>* values : {&found, &start.values}) {
            set_values(candidate, unknowns, values->data());
            const double worst = worst_of(candidate);
            if (std::isfinite(worst) && (!best || worst < best->worst_normalised - 1e-12))
                best = Solution{candidate, branches_or_first(candidate), worst};
        }
    }
    return best;
}

Bounds serving_range(const Linkage& linkage, const Variation& unknown) {
    constexpr int steps = 200, halvings = 40;
    const Bounds between = *dimension_of(linkage, unknown).between;
    const double at = value_of(linkage, unknown);
    Linkage varied = linkage;
    const auto serves = [&](double value) {
        set_value(varied, unknown, value);
        return worst_of(varied) <= 1.0;
    };
    if (!serves(at)) return {at, at};
    const auto farthest = [&](double end) {
        double inner = at;
        for (int i = 1; i <= steps; ++i) {
            double outer = at + (end - at) * i / steps;
            if (serves(outer)) {
                inner = outer;
                continue;
            }
            for (int k = 0; k < halvings; ++k) {
                const double middle = (inner + outer) / 2.0;
                (serves(middle) ? inner : outer) = middle;
            }
            return inner;
        }
        return end;
    };
    return {farthest(between.least), farthest(between.most)};
}

}  // namespace fitup::calculations
