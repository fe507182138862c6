#include "rules/doubt.hpp"

#include <cmath>

namespace fitup::rules {

double doubt_mm(const plan::Hole& hole) { return doubt_sigmas * hole.position_sigma_mm.value_or(0.0); }

double doubt_between_mm(const plan::Hole* first, const plan::Hole* second) {
    if (first != nullptr && second != nullptr && first->pattern == second->pattern)
        return doubt_mm(*first) + doubt_mm(*second);
    return std::hypot(first != nullptr ? doubt_mm(*first) : 0.0, second != nullptr ? doubt_mm(*second) : 0.0);
}

}  // namespace fitup::rules
