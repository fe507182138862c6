#include "sheets/size_text.hpp"

#include "base/text.hpp"
#include "base/units.hpp"

namespace fitup::sheets {

std::string over_all_text(const plan::Box& box) {
    std::string mm, inch;
    for (std::size_t axis = 0; axis < 3; ++axis) {
        const double size_mm = box.most[axis] - box.least[axis];
        mm += (axis > 0 ? " x " : "") + short_text(size_mm, 3);
        inch += (axis > 0 ? " x " : "") + short_text(size_mm / mm_per_inch, 4);
    }
    return mm + " mm (" + inch + " in)";
}

std::string limits_text(const plan::Fit& fit) {
    const double least_mm = fit.nominal_mm + fit.lower_um / 1000.0;
    const double most_mm = fit.nominal_mm + fit.upper_um / 1000.0;
    return fit.tolerance_class + ": " + fixed_text(least_mm, 3) + " to " + fixed_text(most_mm, 3) + " mm, " +
           fixed_text(least_mm / mm_per_inch, 4) + " to " + fixed_text(most_mm / mm_per_inch, 4) + " in";
}

std::string readout_mm(double length_mm) { return fixed_text(length_mm, 2); }
std::string readout_in(double length_mm) { return fixed_text(length_mm / mm_per_inch, 4); }

std::string readout_text(double length_mm) {
    return readout_mm(length_mm) + " mm (" + readout_in(length_mm) + " in)";
}

}  // namespace fitup::sheets
