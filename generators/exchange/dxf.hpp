#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "plan/plan.hpp"
#include "plan/profile.hpp"

/// Flat profiles as DXF, the exchange format for cutting machines: R2000 text, with circles as circles and
/// closed polylines whose arcs are arcs.
namespace fitup::exchange {

/// The whole file. Lengths in `units`, which the header states ($INSUNITS). The same profile gives the same
/// bytes.
std::string dxf_text(const plan::Profile& profile, plan::Units units);

/// What a file of `dxf_text`'s manner holds, in mm again; other entities and tables are passed over.
/// @throws FileError(name, ..) when the text is no DXF file, is cut short, or says no unit that is known.
plan::Profile read_dxf(std::string_view text, const std::string& name);

/// How far the curves of two profiles are apart at most (corners, centres, radii, arc middles), in mm.
/// @returns nothing where layers, number or kind of curves differ.
std::optional<double> difference_mm(const plan::Profile& first, const plan::Profile& second);

}  // namespace fitup::exchange
