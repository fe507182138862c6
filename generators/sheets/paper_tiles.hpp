#pragma once

#include <array>
#include <vector>

namespace fitup::sheets {

/// A stretch along one axis that a cut should not run through.
struct Kept {
    double from_mm = 0.0;
    double to_mm = 0.0;
};

/// Where sheets meet along one axis: every stretch between two cuts is at most `most_mm` wide. A cut lies as
/// far along as it can without running through anything kept; where nothing free is left, at the full width.
/// @returns the cuts between `from_mm` and `to_mm`, both ends excluded
std::vector<double> cuts_between(double from_mm, double to_mm, double most_mm, const std::vector<Kept>& kept);

}  // namespace fitup::sheets
