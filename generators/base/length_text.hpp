#pragma once

#include <string>

#include "base/text.hpp"
#include "base/units.hpp"

namespace fitup {

/// Lengths as a sheet writes them: in the one unit that its file is in.
class LengthText {
  public:
    explicit LengthText(bool is_inch) : is_inch_(is_inch) {}

    const char* unit() const { return is_inch_ ? "in" : "mm"; }
    double unit_mm() const { return is_inch_ ? mm_per_inch : 1.0; }
    /// To 0.001 mm or 0.0001 in, zeros at the end left out.
    std::string number(double length_mm) const { return short_text(length_mm / unit_mm(), is_inch_ ? 4 : 3); }
    /// The same with the unit behind it.
    std::string with_unit(double length_mm) const { return number(length_mm) + " " + unit(); }

  private:
    bool is_inch_;
};

}  // namespace fitup
