#include <algorithm>
#include <cmath>

#include "trade/names.hpp"
#include "trade/table.hpp"

namespace fitup::trade {

namespace {

/// Two sizes nearer than this are the same drill: half the last digit of the finest printed size.
constexpr double same_drill_mm = 0.0005;
/// Rounding of a size that was worked out (12 - 0.3 is a little under 11.7).
constexpr double rounding_mm = 1e-6;

Drill read_drill(const Row& row) { return {row.text("name"), row.number("diameter_mm"), row.source()}; }

bool is_metric(const Drill& drill) { return drill.name.ends_with(" mm"); }

/// Fractions and metric sizes are on every bench; letters and numbers are not.
bool is_common(const Drill& drill) { return is_metric(drill) || drill.name.find('/') != std::string::npos; }

bool is_nearer_below(const Drill& drill, const Drill* best, double limit_mm) {
    return drill.diameter_mm <= limit_mm && (!best || drill.diameter_mm > best->diameter_mm);
}

}  // namespace

std::span<const Drill> drills() {
    static const std::vector<Drill> rows = read_rows("drills", read_drill);
    return rows;
}

const Drill* find_drill(std::string_view name) {
    const std::string key = name_key(name);
    for (const Drill& drill : drills()) {
        const std::string own = name_key(drill.name);
        if (own == key || (is_metric(drill) && own == key + "mm")) return &drill;
        if (is_metric(drill) && own == key + ".0mm") return &drill;
    }
    return nullptr;
}

const Drill* drill_of(double diameter_mm) {
    const Drill* found = nullptr;
    for (const Drill& drill : drills()) {
        if (std::abs(drill.diameter_mm - diameter_mm) > same_drill_mm) continue;
        if (!found || (is_common(drill) && !is_common(*found))) found = &drill;
    }
    return found;
}

const Drill* largest_drill_up_to(double diameter_mm, bool units_inch) {
    const double limit_mm = diameter_mm + rounding_mm;
    const Drill* preferred = nullptr;
    const Drill* any = nullptr;
    for (const Drill& drill : drills()) {
        if (is_nearer_below(drill, any, limit_mm)) any = &drill;
        if (is_metric(drill) != units_inch && is_nearer_below(drill, preferred, limit_mm)) preferred = &drill;
    }
    return preferred ? preferred : any;
}

}  // namespace fitup::trade
