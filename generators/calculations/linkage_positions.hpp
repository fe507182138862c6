#pragma once

#include <vector>

#include "calculations/chain.hpp"
#include "calculations/linkage_result.hpp"

/// A linkage at its named positions and over its travel.
namespace fitup::calculations {

/// Every named position with all its figures.
std::vector<PositionResult> positions_of(const Linkage& linkage, const Chain& chain);

/// The least margin before play; minus infinity where a position can't close.
double worst_margin_deg(const std::vector<PositionResult>& positions);

/// The greatest error over the window's half-width on its side; infinite where a position can't close.
double worst_normalised(const std::vector<PositionResult>& positions);

/// An error over the window's half-width on its side; a side without room counts any error as beyond it.
double normalised_error(double error_deg, double below_deg, double above_deg);

}  // namespace fitup::calculations
