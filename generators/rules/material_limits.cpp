// Limits that depend on what the part is made of. Rows are data; each names its source.
#include <array>

#include "rules/limits.hpp"

namespace fitup::rules {

namespace {

struct FamilyLimit {
    std::string_view family;
    double warn = 0.0;
    double stop = 0.0;
    std::string_view source;
};

// Hole's centre to the edge, in nominal diameters. Under 1 d: AISC 360 J3.4 leaves it to an engineer's
// decision.
constexpr std::array edge_rows{
    FamilyLimit{"aluminium", 1.5, 1.0,
                "1.5 d: Aluminum Design Manual, as quoted by a trade guide; stop under 1 d: AISC 360 J3.4"},
    FamilyLimit{"cast iron", 1.5, 1.0, "common practice, no source; stop under 1 d: AISC 360 J3.4"},
    FamilyLimit{"brass", 1.5, 1.0, "common practice, no source; stop under 1 d: AISC 360 J3.4"},
    FamilyLimit{"plastic", 2.0, 1.0, "common practice, no source; stop under 1 d: AISC 360 J3.4"},
    FamilyLimit{"", 1.5, 1.0, "as for aluminium, the material being unknown; stop under 1 d: AISC 360 J3.4"},
};

/// AISC 360-16 Tables J3.4 and J3.4M: least distance from the centre of a standard hole to the edge.
struct EdgeRow {
    double nominal_mm = 0.0;
    double distance_mm = 0.0;
};
constexpr std::array steel_edge_rows{
    EdgeRow{12.7, 19.05},   EdgeRow{15.875, 22.225}, EdgeRow{16.0, 22.0},     EdgeRow{19.05, 25.4},
    EdgeRow{20.0, 26.0},    EdgeRow{22.0, 28.0},     EdgeRow{22.225, 28.575}, EdgeRow{24.0, 30.0},
    EdgeRow{25.4, 31.75},   EdgeRow{27.0, 34.0},     EdgeRow{28.575, 38.1},   EdgeRow{30.0, 38.0},
    EdgeRow{31.75, 41.275}, EdgeRow{36.0, 46.0},
};
constexpr double steel_edge_above_table_d = 1.25;
constexpr std::string_view steel_edge_source =
    "AISC 360-16 Tables J3.4 and J3.4M; stop under 1 d: AISC 360 J3.4";

/// Of the row of this size, else of the next smaller one; the smallest row's below the table, where the
/// standard has none.
double steel_edge_d(double nominal_mm) {
    constexpr double same_size_mm = 0.001;
    if (nominal_mm > steel_edge_rows.back().nominal_mm + same_size_mm) return steel_edge_above_table_d;
    const EdgeRow* chosen = &steel_edge_rows.front();
    for (const EdgeRow& row : steel_edge_rows) {
        if (row.nominal_mm <= nominal_mm + same_size_mm) chosen = &row;
    }
    return chosen->distance_mm / chosen->nominal_mm;
}

// Thread in the metal, in nominal diameters.
constexpr std::array engagement_rows{
    FamilyLimit{"aluminium", 2.0, 1.0,
                "2 d: an engine maker's manual and Machinery's Handbook (from memory, unverified); stop "
                "under 1 d: an 8.8 screw in 6061-T6 strips "
                "below 1.04 d, computed by FED-STD-H28/2B"},
    FamilyLimit{"steel", 1.25, 0.8,
                "1.25 d: an engine maker's manual; stop under the height of a nut (0.8 d, ISO 4032)"},
    FamilyLimit{"stainless", 1.25, 0.8, "as for steel; stop under the height of a nut (0.8 d, ISO 4032)"},
    FamilyLimit{"cast iron", 1.5, 1.0,
                "1.5 d: SAE J617, as summarised; stop under 1 d: common practice, no source"},
    FamilyLimit{"brass", 1.5, 1.0,
                "general practice, from memory, unverified; stop under 1 d: common practice, no source"},
    FamilyLimit{"plastic", 2.5, 1.5,
                "general practice, from memory, unverified; stop under 1.5 d: common practice, no source"},
    FamilyLimit{"", 2.0, 1.0, "as for aluminium, the material being unknown"},
};

/// Least inside radius of a bend across the grain, in thicknesses, up to a thickness.
struct BendRow {
    std::string_view family;
    double up_to_mm = 0.0;
    double radius_t = 0.0;
    std::string_view source;
};
constexpr std::string_view steel_bend_source = "A36: trade guide after AISI";
constexpr std::string_view aluminium_bend_source =
    "6061-T6: published makers' table (fabricators say 1.5 t; softer tempers bend tighter)";
constexpr std::string_view like_steel_source = "as for mild steel, common practice, no source";
constexpr double any_thickness_mm = 1e9;
constexpr std::array bend_rows{
    BendRow{"steel", 6.35, 1.0, steel_bend_source},
    BendRow{"steel", 12.7, 1.5, steel_bend_source},
    BendRow{"steel", any_thickness_mm, 2.0, steel_bend_source},
    BendRow{"aluminium", 3.2, 2.5, aluminium_bend_source},
    BendRow{"aluminium", 6.35, 3.5, aluminium_bend_source},
    BendRow{"aluminium", any_thickness_mm, 4.5, aluminium_bend_source},
    BendRow{"stainless", 6.35, 1.0, like_steel_source},
    BendRow{"stainless", 12.7, 1.5, like_steel_source},
    BendRow{"stainless", any_thickness_mm, 2.0, like_steel_source},
    BendRow{"brass", any_thickness_mm, 1.5, "common practice, no source"},
};

template <std::size_t Count>
Limit of_family(const std::array<FamilyLimit, Count>& rows, std::string_view family) {
    const FamilyLimit* chosen = &rows.back();
    for (const FamilyLimit& row : rows) {
        if (row.family == family) chosen = &row;
    }
    return {std::nullopt, chosen->warn, chosen->stop, std::string(chosen->source)};
}

}  // namespace

Limit edge_distance_limit(std::string_view family, double nominal_mm) {
    if (family == "steel" || family == "stainless")
        return {std::nullopt, steel_edge_d(nominal_mm), 1.0, std::string(steel_edge_source)};
    return of_family(edge_rows, family);
}

Limit engagement_limit(std::string_view family) { return of_family(engagement_rows, family); }

Limit bend_radius_limit(std::string_view family, double thickness_mm) {
    constexpr double same_size_mm = 0.001;
    for (const BendRow& row : bend_rows) {
        if (row.family == family && thickness_mm <= row.up_to_mm + same_size_mm)
            return {std::nullopt, row.radius_t, std::nullopt, std::string(row.source)};
    }
    return {};
}

}  // namespace fitup::rules
