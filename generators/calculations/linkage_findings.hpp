#pragma once

#include "calculations/chain.hpp"
#include "calculations/linkage_result.hpp"

namespace fitup::calculations {

/// What is to be said of a linkage worked out: chains that open, positions that fall between, windows entered
/// on the way, joints beyond their limit, rods at a poor angle, stops that come in the wrong order, threads
/// run out.
plan::Findings linkage_findings(const LinkageResult& result, const Chain& chain);

}  // namespace fitup::calculations
