#pragma once

#include <optional>

#include "parts/reading.hpp"
#include "plan/plan.hpp"

namespace fitup::parts {

/// How much wider than what turns the nut an `auto` recess is: settled in the file format.
inline constexpr double room_round_tool_mm = 2.0;

/// Reads a recess of `hole`, whose fastener and side are known already. `auto` and `flush` that no table row
/// serves become faults.
plan::Recess read_recess(Reader& reader, const Field& field, const plan::Hole& hole);

plan::Countersink read_countersink(Reader& reader, const Field& field, const plan::Hole& hole);

/// Depth of a countersink's cone down to the hole's own diameter, in mm.
double depth_mm(const plan::Countersink& countersink, double hole_diameter_mm);

}  // namespace fitup::parts
