#include "base/both_units.hpp"

#include "base/text.hpp"
#include "base/units.hpp"

namespace fitup {

std::string both_units(double length_mm) {
    return short_text(length_mm, 3) + " mm (" + short_text(length_mm / mm_per_inch, 4) + " in)";
}

}  // namespace fitup
