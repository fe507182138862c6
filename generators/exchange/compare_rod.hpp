#pragma once

#include "exchange/measurement.hpp"

namespace fitup::exchange {

/// Every straight, turned length and chamfer of a rod (axis, ends, diameters) and every bend (centre, plane,
/// radii, where it lies on its ring and how far it goes), against what was found; what was found beyond them
/// is extra.
///
/// A mesh (`chord_mm` over 0) shows no bends; they follow from the straights beside them, and a band of
/// facets across one is no shaft. A round wall that a mesh does not show is unmeasured there.
void append_rod_rows(Comparison& comparison, const plan::Rod& rod, const Measurement& found, double within_mm,
                     double chord_mm);

}  // namespace fitup::exchange
