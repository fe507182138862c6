#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "plan/finding.hpp"

/// Chains of sizes along one axis and the gaps that they close. Lengths in mm.
namespace fitup::calculations {

struct Interval {
    double least_mm = 0.0;
    double most_mm = 0.0;
};

struct StackLink {
    std::string name;
    double size_mm = 0.0;  ///< of the solved link: what was found
    double plus_mm = 0.0;
    double minus_mm = 0.0;  ///< without sign
    bool has_tolerance = false;
};

/// A link as one closing goes through it.
struct StackTerm {
    std::size_t link = 0;
    double sign = 1.0;  ///< 1 or -1
};

struct Closing {
    std::string name;
    std::optional<Interval> between;  ///< what is asked of it
    std::vector<StackTerm> through;   ///< no link twice
};

struct Stack {
    std::string name, revision;
    plan::Units units = plan::Units::mm;
    std::vector<StackLink> links;
    std::vector<Closing> closings;
    std::optional<std::size_t> solve;  ///< the link whose size is open
};

/// What one link adds to the spread of one closing.
struct StackShare {
    std::size_t link = 0;
    double spread_mm = 0.0;  ///< its whole tolerance, plus and minus
    double of_worst_case = 0.0;
    double of_variance = 0.0;
};

struct ClosingResult {
    double nominal_mm = 0.0;  ///< of the sizes as drawn
    double mean_mm = 0.0;     ///< unequal plus and minus shift it
    double sigma_mm = 0.0;
    Interval worst_case;
    Interval statistical;  ///< mean and three standard deviations
    /// Share of assemblies outside the window, sizes normally distributed; none without a window.
    std::optional<double> out_of_window;
    /// What is left in the window at its least and at its most, worst case; under 0: missing.
    std::optional<Interval> room;
    std::vector<StackShare> shares;  ///< the greatest first
};

/// Sizes of the solved link that a closing asks for, its own tolerance taken off.
struct ClosingDemand {
    std::size_t closing = 0;
    Interval worst_case;   ///< empty (least over most) where the tolerances alone are wider than the window
    Interval statistical;  ///< the same by root-sum-square
};

/// Why no size serves: one closing asks for at least this much, another (or the same) for at most that.
struct StackExclusion {
    std::size_t at_least = 0;  ///< closings
    std::size_t at_most = 0;
    double least_mm = 0.0;
    double most_mm = 0.0;
    double by_mm() const { return least_mm - most_mm; }
    /// Share of all tolerances of the two at which a size would serve; none where even exact sizes exclude
    /// each other, by `exact_by_mm`.
    std::optional<double> tolerances_to;
    double exact_by_mm = 0.0;
    /// The link whose tolerance alone, brought to `link_spread_mm` in all, would do; none where no single one
    /// would.
    std::optional<std::size_t> link;
    double link_spread_mm = 0.0;
};

struct StackSolution {
    std::size_t link = 0;
    std::vector<ClosingDemand> demands;
    /// The size: middle of what serves all closings; where none does, what misses each side by the same.
    double value_mm = 0.0;
    std::optional<Interval> serves;
    std::optional<Interval> serves_statistical;
    std::optional<StackExclusion> exclusion;  ///< the worst pair; none where a size serves
};

struct StackResult {
    Stack stack;  ///< with the solved size in its place
    std::vector<ClosingResult> closings;
    std::optional<StackSolution> solution;
    plan::Findings findings;
    bool holds = true;  ///< a size serves, and every closing stays in its window at worst
};

/// Never fails: what can't be had is a finding.
StackResult work_out(const Stack& stack);

/// Smallest and greatest size of a link within its tolerance.
Interval limits_of(const StackLink& link);

/// The size at which a link makes the closing least (`least`) or most.
double extreme_size_mm(const StackLink& link, double sign, bool least);

}  // namespace fitup::calculations
