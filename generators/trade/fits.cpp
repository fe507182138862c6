#include <algorithm>

#include "trade/table.hpp"

namespace fitup::trade {

namespace {

FitLimits read_fit(const Row& row) {
    return {row.text("tolerance_class"), row.number("nominal_over_mm"), row.number("nominal_to_mm"),
            row.number("lower_um"),      row.number("upper_um"),        row.source()};
}

std::string_view without_spaces_around(std::string_view text) {
    const auto first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

}  // namespace

std::span<const FitLimits> fits() {
    static const std::vector<FitLimits> rows = read_rows("fits", read_fit);
    return rows;
}

const FitLimits* find_fit(std::string_view tolerance_class, double nominal_mm) {
    const std::string_view wanted = without_spaces_around(tolerance_class);
    for (const FitLimits& fit : fits()) {
        const bool in_range = nominal_mm > fit.over_mm && nominal_mm <= fit.to_mm;
        if (in_range && fit.tolerance_class == wanted) return &fit;
    }
    return nullptr;
}

std::vector<std::string> tolerance_classes() {
    std::vector<std::string> classes;
    for (const FitLimits& fit : fits()) {
        if (std::find(classes.begin(), classes.end(), fit.tolerance_class) == classes.end()) {
            classes.push_back(fit.tolerance_class);
        }
    }
    return classes;
}

}  // namespace fitup::trade
