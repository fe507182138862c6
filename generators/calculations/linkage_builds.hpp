#pragma once

#include <vector>

#include "calculations/linkage_result.hpp"

/// Builds by a hand that errs, and which of its errors matter.
namespace fitup::calculations {

/// Samples builds with every size anywhere within its tolerance (evenly spread, independent), on all cores;
/// the same seed gives the same figures whatever the number of cores.
/// @param set_first  position at which the last rod that adjusts is set, in whole steps, after the build
Builds sample_builds(const Linkage& linkage, const std::vector<double>& branches, std::size_t set_first);

/// Sizes by how much of a window their tolerance can use up, the greatest first. First order.
std::vector<Influence> influences_of(const Linkage& linkage, const std::vector<double>& branches);

/// Standard deviation of the output at each position by first-order propagation, in degrees.
std::vector<double> first_order_sigma_deg(const Linkage& linkage, const std::vector<double>& branches);

}  // namespace fitup::calculations
