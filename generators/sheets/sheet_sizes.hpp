#pragma once

#include <string>

#include "plan/plan.hpp"

namespace fitup::sheets {

/// Sizes as a drawing says them: in the file's unit, which the title block names; the other one in square
/// brackets where that is asked for.
class SheetSizes {
  public:
    SheetSizes(plan::Units units, bool both) : units_(units), both_(both) {}

    /// "12.7", "12.7 [0.5]".
    std::string text(double length_mm) const;
    /// With as many decimals as a readout shows (0.01 mm, 0.0001 in), in the file's unit alone: of places.
    std::string place(double length_mm) const;
    /// Three decimals of a millimetre, four of an inch: of limits.
    std::string limit(double length_mm) const;
    /// "12.018 / 12.000", the larger one first.
    std::string limits(const plan::Fit& fit) const;
    /// A tolerance, rounded down to 0.01 mm or 0.001 in.
    std::string zone(double length_mm) const;

    plan::Units units() const { return units_; }
    bool both() const { return both_; }

  private:
    std::string bracketed(std::string own, std::string other) const;
    plan::Units units_;
    bool both_;
};

}  // namespace fitup::sheets
