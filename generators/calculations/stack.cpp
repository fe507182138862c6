#include "calculations/stack.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "calculations/stack_findings.hpp"

namespace fitup::calculations {

namespace {

/// Tolerances are taken as three standard deviations.
constexpr double sigmas = 3.0;
/// Sizes nearer than this are one: rounding, far below what can be made.
constexpr double equal_mm = 1e-9;

double spread_mm(const StackLink& link) { return link.plus_mm + link.minus_mm; }

/// What the terms of a closing add up to, one link left out where wanted.
struct Sum {
    double nominal_mm = 0.0;
    double mean_mm = 0.0;
    double variance_mm2 = 0.0;
    Interval worst_case;
};

Sum sum_of(const Stack& stack, const Closing& closing, std::optional<std::size_t> left_out = {}) {
    Sum sum;
    for (const StackTerm& term : closing.through) {
        if (left_out && term.link == *left_out) continue;
        const StackLink& link = stack.links[term.link];
        sum.nominal_mm += term.sign * link.size_mm;
        sum.mean_mm += term.sign * (link.size_mm + (link.plus_mm - link.minus_mm) / 2.0);
        const double sigma_mm = spread_mm(link) / 2.0 / sigmas;
        sum.variance_mm2 += sigma_mm * sigma_mm;
        sum.worst_case.least_mm += term.sign * extreme_size_mm(link, term.sign, true);
        sum.worst_case.most_mm += term.sign * extreme_size_mm(link, term.sign, false);
    }
    return sum;
}

/// Normal distribution's share outside the window.
double share_outside(const Interval& window, double mean_mm, double sigma_mm) {
    if (sigma_mm <= 0.0)
        return mean_mm < window.least_mm - equal_mm || mean_mm > window.most_mm + equal_mm ? 1.0 : 0.0;
    const double scale = sigma_mm * std::numbers::sqrt2;
    return (std::erfc((mean_mm - window.least_mm) / scale) + std::erfc((window.most_mm - mean_mm) / scale)) /
           2.0;
}

/// Without the rounding of doubles, so that 40 is 40.
double clean_mm(double value_mm) { return std::round(value_mm * 1e9) / 1e9; }

std::vector<StackShare> shares_of(const Stack& stack, const Closing& closing) {
    std::vector<StackShare> shares;
    double spread = 0.0, squares = 0.0;
    for (const StackTerm& term : closing.through) {
        const double own = spread_mm(stack.links[term.link]);
        spread += own;
        squares += own * own;
        shares.push_back({term.link, own, 0.0, 0.0});
    }
    for (StackShare& share : shares) {
        if (spread <= 0.0) continue;
        share.of_worst_case = share.spread_mm / spread;
        share.of_variance = share.spread_mm * share.spread_mm / squares;
    }
    std::stable_sort(shares.begin(), shares.end(),
                     [](const auto& a, const auto& b) { return a.spread_mm > b.spread_mm; });
    return shares;
}

ClosingResult result_of(const Stack& stack, const Closing& closing) {
    const Sum sum = sum_of(stack, closing);
    ClosingResult result;
    result.nominal_mm = sum.nominal_mm;
    result.mean_mm = sum.mean_mm;
    result.sigma_mm = std::sqrt(sum.variance_mm2);
    result.worst_case = sum.worst_case;
    result.statistical = {sum.mean_mm - sigmas * result.sigma_mm, sum.mean_mm + sigmas * result.sigma_mm};
    result.shares = shares_of(stack, closing);
    if (closing.between) {
        result.out_of_window = share_outside(*closing.between, result.mean_mm, result.sigma_mm);
        result.room = {sum.worst_case.least_mm - closing.between->least_mm,
                       closing.between->most_mm - sum.worst_case.most_mm};
    }
    return result;
}

double sign_in(const Closing& closing, std::size_t link) {
    for (const StackTerm& term : closing.through) {
        if (term.link == link) return term.sign;
    }
    return 0.0;
}

/// Nominal sizes for which sign * size + [low, high] stays in the window.
Interval sizes_for(const Interval& window, double sign, double low_mm, double high_mm) {
    if (sign > 0.0) return {window.least_mm - low_mm, window.most_mm - high_mm};
    return {high_mm - window.most_mm, low_mm - window.least_mm};
}

std::optional<ClosingDemand> demand_of(const Stack& stack, std::size_t closing_index) {
    const Closing& closing = stack.closings[closing_index];
    const double sign = sign_in(closing, *stack.solve);
    if (sign == 0.0 || !closing.between) return std::nullopt;
    // The open link's size is taken out, its tolerance stays in.
    Stack at_zero = stack;
    at_zero.links[*stack.solve].size_mm = 0.0;
    const Sum rest = sum_of(at_zero, closing);
    const double three_sigma_mm = sigmas * std::sqrt(rest.variance_mm2);
    return ClosingDemand{
        closing_index, sizes_for(*closing.between, sign, rest.worst_case.least_mm, rest.worst_case.most_mm),
        sizes_for(*closing.between, sign, rest.mean_mm - three_sigma_mm, rest.mean_mm + three_sigma_mm)};
}

/// By how much the tolerances of one closing push the open link's least size up (or its most down).
double push_mm(const StackLink& link, double sign_of_link, double sign_of_open, bool at_least) {
    // The least size is set by the closing's least where the open link adds to it, by its most where not.
    const bool is_low_end = (sign_of_open > 0.0) == at_least;
    return std::abs(extreme_size_mm(link, sign_of_link, is_low_end) - link.size_mm);
}

double push_of(const Stack& stack, std::size_t closing_index, std::size_t link, bool at_least) {
    const Closing& closing = stack.closings[closing_index];
    const double sign = sign_in(closing, link);
    return sign == 0.0 ? 0.0 : push_mm(stack.links[link], sign, sign_in(closing, *stack.solve), at_least);
}

/// What tolerances would let the two closings live together.
void add_cure(const Stack& stack, StackExclusion& exclusion) {
    double pushed_mm = 0.0, greatest_mm = 0.0;
    std::size_t greatest = 0;
    for (std::size_t link = 0; link < stack.links.size(); ++link) {
        const double own_mm =
            push_of(stack, exclusion.at_least, link, true) + push_of(stack, exclusion.at_most, link, false);
        pushed_mm += own_mm;
        if (own_mm > greatest_mm) {
            greatest_mm = own_mm;
            greatest = link;
        }
    }
    exclusion.exact_by_mm = exclusion.by_mm() - pushed_mm;
    if (exclusion.exact_by_mm > equal_mm) return;
    exclusion.tolerances_to = pushed_mm > 0.0 ? std::max(0.0, -exclusion.exact_by_mm) / pushed_mm : 1.0;
    if (greatest_mm < exclusion.by_mm()) return;
    exclusion.link = greatest;
    exclusion.link_spread_mm = spread_mm(stack.links[greatest]) * (1.0 - exclusion.by_mm() / greatest_mm);
}

StackExclusion worst_pair(const Stack& stack, const std::vector<ClosingDemand>& demands) {
    StackExclusion worst;
    double by_mm = -std::numeric_limits<double>::infinity();
    for (const ClosingDemand& lower : demands) {
        for (const ClosingDemand& upper : demands) {
            if (lower.worst_case.least_mm - upper.worst_case.most_mm <= by_mm) continue;
            worst.at_least = lower.closing;
            worst.at_most = upper.closing;
            worst.least_mm = lower.worst_case.least_mm;
            worst.most_mm = upper.worst_case.most_mm;
            by_mm = worst.by_mm();
        }
    }
    add_cure(stack, worst);
    return worst;
}

std::optional<Interval> common(const std::vector<ClosingDemand>& demands, Interval ClosingDemand::*which) {
    Interval all{-std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
    for (const ClosingDemand& demand : demands) {
        all.least_mm = std::max(all.least_mm, (demand.*which).least_mm);
        all.most_mm = std::min(all.most_mm, (demand.*which).most_mm);
    }
    if (all.least_mm > all.most_mm + equal_mm) return std::nullopt;
    return all;
}

StackSolution solution_of(const Stack& stack) {
    StackSolution solution;
    solution.link = *stack.solve;
    for (std::size_t i = 0; i < stack.closings.size(); ++i) {
        if (const auto demand = demand_of(stack, i)) solution.demands.push_back(*demand);
    }
    solution.serves = common(solution.demands, &ClosingDemand::worst_case);
    solution.serves_statistical = common(solution.demands, &ClosingDemand::statistical);
    if (solution.serves) {
        solution.value_mm = clean_mm((solution.serves->least_mm + solution.serves->most_mm) / 2.0);
        return solution;
    }
    solution.exclusion = worst_pair(stack, solution.demands);
    solution.value_mm = clean_mm((solution.exclusion->least_mm + solution.exclusion->most_mm) / 2.0);
    return solution;
}

}  // namespace

Interval limits_of(const StackLink& link) {
    return {link.size_mm - link.minus_mm, link.size_mm + link.plus_mm};
}

double extreme_size_mm(const StackLink& link, double sign, bool least) {
    const Interval limits = limits_of(link);
    return (sign > 0.0) == least ? limits.least_mm : limits.most_mm;
}

StackResult work_out(const Stack& stack) {
    StackResult result;
    result.stack = stack;
    if (stack.solve) {
        result.solution = solution_of(stack);
        result.stack.links[*stack.solve].size_mm = result.solution->value_mm;
    }
    for (const Closing& closing : stack.closings) result.closings.push_back(result_of(result.stack, closing));
    result.findings = stack_findings(result);
    result.holds = std::none_of(result.findings.begin(), result.findings.end(),
                                [](const auto& finding) { return finding.severity == plan::Severity::stop; });
    return result;
}

}  // namespace fitup::calculations
