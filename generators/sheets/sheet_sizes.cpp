#include "sheets/sheet_sizes.hpp"

#include <algorithm>
#include <cmath>

#include "base/length_text.hpp"
#include "base/text.hpp"
#include "base/units.hpp"

namespace fitup::sheets {

std::string SheetSizes::bracketed(std::string own, std::string other) const {
    return both_ ? own + " [" + other + "]" : own;
}

std::string SheetSizes::text(double length_mm) const {
    if (units_ == plan::Units::in)
        return bracketed(LengthText(true).number(length_mm), short_text(length_mm, 2));
    return bracketed(LengthText(false).number(length_mm), short_text(length_mm / mm_per_inch, 3));
}

std::string SheetSizes::place(double length_mm) const {
    return units_ == plan::Units::in ? fixed_text(length_mm / mm_per_inch, 4) : fixed_text(length_mm, 2);
}

std::string SheetSizes::limit(double length_mm) const {
    const std::string mm = fixed_text(length_mm, 3), inch = fixed_text(length_mm / mm_per_inch, 4);
    return units_ == plan::Units::in ? bracketed(inch, mm) : bracketed(mm, inch);
}

std::string SheetSizes::limits(const plan::Fit& fit) const {
    const double least_mm = fit.nominal_mm + fit.lower_um / 1000.0;
    const double most_mm = fit.nominal_mm + fit.upper_um / 1000.0;
    return limit(most_mm) + " / " + limit(least_mm);
}

std::string SheetSizes::zone(double length_mm) const {
    // A value that is one of the steps stays it.
    constexpr double slack = 1e-6;
    const auto down = [](double value, double step) { return std::floor(value / step + slack) * step; };
    const std::string mm = short_text(down(length_mm, 0.01), 2);
    const std::string inch = short_text(down(length_mm / mm_per_inch, 0.001), 3);
    return units_ == plan::Units::in ? bracketed(inch, mm) : bracketed(mm, inch);
}

}  // namespace fitup::sheets
