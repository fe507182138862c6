#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

/// Handbook tables, each row with its source. All lengths in mm, angles in degrees as the tables print them.
///
/// Finders take names and aliases ("3/8-16", "3/8-16 UNC", "M10x1.5", "M10"), any case and spacing; they
/// return null for an unknown one. Pointers stay valid for the program's life.
namespace fitup::trade {

/// Where a figure is from. `unverified` when it was recalled and not seen in print.
struct Source {
    std::string text;
    bool unverified = false;
};

struct Thread {
    std::string designation;  ///< "3/8-16 UNC", "M10", "M10x1.25", "2 BA"
    std::string series;       ///< "UNC", "ISO coarse", ..
    double major_mm = 0.0;
    double pitch_mm = 0.0;
    double flank_angle_deg = 60.0;
    double tap_drill_mm = 0.0;
    std::string tap_drill_name;
    Source source;
    bool is_inch() const;  ///< named in inches (UNC, UNF, BSW, BSF)
};
const Thread* find_thread(std::string_view name);
std::span<const Thread> threads();
/// ISO 68-1, ASME B1.1, BS 84, BS 93.
double pitch_diameter_mm(const Thread& thread);
double minor_diameter_mm(const Thread& thread);  ///< of the tapped (internal) thread
/// Share of full thread depth left by a hole, 1.0 = full: ISO 68-1 / ASME B1.1 100 (d - drill) / (1.299038
/// P), Whitworth 1.280654, BA 1.2.
double thread_share(const Thread& thread, double hole_mm);
/// Threads easily taken for this one (nearly the same diameter and pitch, another series), with how to tell
/// them apart.
struct LookAlike {
    const Thread* thread = nullptr;
    std::string test;
};
std::vector<LookAlike> look_alikes(const Thread& thread);

/// Nominal fastener sizes: "3/8", "#10", "M10"; a thread's designation works too.
struct ClearanceHole {
    std::string designation;
    std::string fit;  ///< close, normal, loose
    double nominal_mm = 0.0;
    double diameter_mm = 0.0;
    Source source;
};
const ClearanceHole* find_clearance_hole(std::string_view fastener, std::string_view fit);
std::span<const ClearanceHole> clearance_holes();

struct Drill {
    std::string name;  ///< "#7", "F", "5/16", "8.5 mm"
    double diameter_mm = 0.0;
    Source source;
};
std::span<const Drill> drills();
/// By name: "#7", "F", "5/16", "8.5 mm", "8.5". Null for an unknown one.
const Drill* find_drill(std::string_view name);
/// The drill of just this diameter (within 0.0005 mm), a fraction or metric one before a letter or number;
/// null when none is.
const Drill* drill_of(double diameter_mm);
/// Largest drill not over `diameter_mm` (1e-6 mm over is not over); null when all are larger. `units_inch`
/// prefers inch sizes, else metric ones: the other sizes come in only when the preferred have none.
const Drill* largest_drill_up_to(double diameter_mm, bool units_inch);

struct Nut {
    std::string designation;
    std::string series;
    double across_flats_mm = 0.0;
    double across_corners_mm = 0.0;
    double height_mm = 0.0;  ///< 0: not known (one row, which find_nut() never gives)
    Source source;
};
/// ISO 4032 for metric, ASME B18.2.2 for a bare inch size, UNC and UNF, BS 1083 for BSW and BSF.
const Nut* find_nut(std::string_view fastener);
std::span<const Nut> nuts();

/// Heads: ISO 4762, ASME B18.3 (socket head cap screws), ISO 4014, ASME B18.2.1 (hex bolts).
struct Head {
    std::string designation;
    std::string kind;                ///< "cap screw" or "hex bolt"
    double width_mm = 0.0;           ///< greatest head diameter of a cap screw, across flats of a bolt
    double across_corners_mm = 0.0;  ///< of a bolt; 0 for a cap screw
    double height_mm = 0.0;
    double key_mm = 0.0;  ///< socket size of a cap screw; 0 for a bolt
    Source source;
};
/// Null for BSW and BSF, whose heads are others.
const Head* find_head(std::string_view fastener, std::string_view kind);
std::span<const Head> heads();

struct Washer {
    std::string designation;
    std::string series;
    double inside_mm = 0.0;
    double outside_mm = 0.0;
    double thickness_mm = 0.0;
    Source source;
};
/// ISO 7089 for metric, ASME B18.21.1 type A narrow (below 1/4: preferred) for inch.
const Washer* find_washer(std::string_view fastener);
std::span<const Washer> washers();

/// Room that the tool over a hexagon needs.
struct ToolRoom {
    double across_flats_mm = 0.0;
    std::string tool;  ///< "hand socket" or "ring spanner"
    double outside_mm = 0.0;
    Source source;
};
/// The row for that across-flats (0.05 mm less will do: 7/16 is printed as 11.125) or the next larger one;
/// null when the table ends below it.
const ToolRoom* find_tool_room(double across_flats_mm, std::string_view tool);
std::span<const ToolRoom> tool_rooms();
/// Outside of a 12.5 mm socket's drive end, and the across-flats up to which it governs.
inline constexpr double drive_end_outside_mm = 24.0;
inline constexpr double drive_end_governs_to_mm = 17.0;

struct Housing {
    std::string designation;  ///< "4" for SAE No. 4
    double pilot_least_mm = 0.0;
    double pilot_most_mm = 0.0;
    double bolt_circle_mm = 0.0;
    int hole_count = 0;
    std::string thread_inch;
    std::string thread_metric;
    double flange_outside_mm = 0.0;
    double first_hole_from_vertical_deg = 0.0;
    double face_depth_mm = 0.0;
    Source source;
};
/// "SAE 4", "4", "SAE No. 4".
const Housing* find_housing(std::string_view name);
std::span<const Housing> housings();

struct MaterialRow {
    std::string name;
    std::vector<std::string> aliases;
    std::string family;  ///< aluminium, steel, stainless, cast iron, brass, plastic
    double density_kg_m3 = 0.0;
    double youngs_modulus_gpa = 0.0;
    std::optional<double> yield_mpa;
    double expansion_per_k = 0.0;
    Source source;
    Source expansion_source;
};
const MaterialRow* find_material(std::string_view name);
std::span<const MaterialRow> materials();

/// ISO 286-2 limit deviations, micrometres. Classes H6 H7 H8 f7 g6 h6 k6 m6 n6 p6, sizes to 500 mm; no
/// others.
struct FitLimits {
    std::string tolerance_class;
    double over_mm = 0.0;
    double to_mm = 0.0;
    double lower_um = 0.0;
    double upper_um = 0.0;
    Source source;
};
/// @param tolerance_class  capitals tell a hole from a shaft: "H7" is not "h7"
/// @param nominal_mm       over `over_mm`, up to and including `to_mm` of the row
const FitLimits* find_fit(std::string_view tolerance_class, double nominal_mm);
std::span<const FitLimits> fits();

/// Names of all entries of a table, for "nearest" messages and completions.
std::vector<std::string> thread_names();
std::vector<std::string> fastener_names();
std::vector<std::string> material_names();
std::vector<std::string> housing_names();
std::vector<std::string> tolerance_classes();

/// A table as `fitup lookup` shows it: one row a line, the source last.
struct Listing {
    std::string title;
    std::vector<std::string> columns;
    std::vector<std::vector<std::string>> rows;
};
/// @param table  "threads", "drills", "clearance-holes", "nuts", "heads", "washers", "tool-room", "housings",
/// "flywheels",
///               "materials", "fits"
/// @param name   keeps the rows that match; empty: all. For fits: "H7" or "H7 150".
/// @returns nothing for an unknown table; no rows for an unknown name.
std::optional<Listing> lookup(std::string_view table, std::string_view name);
std::vector<std::string> table_names();
/// Names that a `lookup` of that table knows, for the nearest one.
std::vector<std::string> names_in(std::string_view table);

}  // namespace fitup::trade
