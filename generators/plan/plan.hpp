#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/angle.hpp"
#include "plan/contour.hpp"
#include "plan/swing.hpp"

/// The plan: what is to be made, free of any modelling kernel. Every length in mm, in the part's frame (for a
/// plate: origin on face A at the bore's centre, +Z to face B, X right and Y up seen looking at face B).
///
/// Solid, hole list, rules, drawing, closed-form volume and inspection all read this, so a position exists
/// once.
namespace fitup::plan {

using Point3 = std::array<double, 3>;

struct Box {
    Point3 least{};
    Point3 most{};
};

/// Face A is z = 0, face B is z = thickness.
enum class Side { A, B };
constexpr Side other(Side side) { return side == Side::A ? Side::B : Side::A; }
constexpr const char* to_text(Side side) { return side == Side::A ? "A" : "B"; }

struct Material {
    std::string name;
    double density_kg_m3 = 0.0;
    std::optional<double> youngs_modulus_gpa;
    std::optional<double> yield_mpa;
    std::optional<double> expansion_per_k;
    /// The family that shop rules know ("aluminium", "steel", "stainless", "cast iron", "brass", "plastic"),
    /// or "".
    std::string family;
    std::string source;
};

/// ISO 286 limits of a hole, in micrometres from the nominal size.
struct Fit {
    std::string tolerance_class;
    double nominal_mm = 0.0;
    double lower_um = 0.0;
    double upper_um = 0.0;
    std::string source;
};

enum class Hand { right, left };

/// Basic profiles: 60 degrees with flats (ISO 68-1, ASME B1.1), 55 degrees rounded (BS 84), 47.5 degrees
/// rounded (BS 93).
enum class ThreadProfile { iso_and_unified, whitworth, british_association };

struct Thread {
    std::string designation;
    ThreadProfile profile = ThreadProfile::iso_and_unified;
    double major_mm = 0.0;
    double pitch_mm = 0.0;
    double minor_mm = 0.0;
    double tap_drill_mm = 0.0;
    std::string tap_drill_name;
    Hand hand = Hand::right;
    /// Full-form thread from the face the hole is made from; equal to the plate's thickness when through.
    double depth_mm = 0.0;
    bool modelled = false;  ///< as a real helix (`"model_as": "thread"`)
    std::string source;
};

enum class HoleKind { bore, clearance, drilled, tapped, dowel };
const char* to_text(HoleKind kind);

/// What is sunk into a recess, as far as the room for it goes.
struct SunkFastener {
    std::string what;  ///< "nut", "hex bolt" or "cap screw"
    std::string designation;
    double across_flats_mm = 0.0;
    double height_mm = 0.0;
    double washer_outside_mm = 0.0;  ///< 0: no washer
    double washer_thickness_mm = 0.0;
    double tool_outside_mm = 0.0;  ///< greatest width of what turns it
    std::string tool;              ///< in words, for the message
    std::string source;
    bool unverified = false;
};

/// A flat-bottomed round widening (counterbore, spotface) of a hole, concentric with it.
struct Recess {
    Side side = Side::B;
    double diameter_mm = 0.0;
    double depth_mm = 0.0;
    std::optional<SunkFastener> holds;
};

struct Countersink {
    Side side = Side::B;
    double diameter_mm = 0.0;
    Angle angle;  ///< included
};

/// The bolt or screw that a clearance hole lets through.
struct Fastener {
    std::string designation;
    double diameter_mm = 0.0;
};

/// A hole along Z, with all that belongs to its axis. Modelled at `diameter_mm`.
struct Hole {
    std::string id;       ///< "gearbox-3", "bore"
    std::string pattern;  ///< "gearbox"; "" for the bore
    HoleKind kind = HoleKind::drilled;
    Point at_mm;
    Side from = Side::B;
    double diameter_mm = 0.0;
    bool through = true;
    double depth_mm = 0.0;  ///< full diameter, from the plane of face `from`; the thickness when through
    std::optional<Angle> point_angle;      ///< included angle of the drill point of a blind hole; none: flat
    std::optional<double> slot_length_mm;  ///< over all; the hole is then a slot of width diameter_mm
    Angle slot_direction;
    std::optional<Recess> recess;
    std::optional<Countersink> countersink;
    std::optional<Thread> thread;
    std::optional<Fastener> fastener;
    std::optional<Fit> fit;
    std::optional<Fit> bush_fit;               ///< of the outside of a bush pressed into it
    std::optional<double> finish_diameter_mm;  ///< reamed to this at assembly; diameter_mm is the pilot
    std::optional<double> locates_on_mm;       ///< diameter of the part that enters, where the file gives it
    /// One standard deviation of its measured place, in the direction it is least well known.
    std::optional<double> position_sigma_mm;
};

/// A ring of metal standing on a face: spigot, boss.
struct Raised {
    std::string id;
    Side side = Side::A;
    Contour outer;
    std::vector<Contour> inner;
    double height_mm = 0.0;
};

enum class PocketKind { register_recess, hollow, relief, mark };

/// A flat-bottomed cut from one face; several areas where one cut falls into parts.
struct Pocket {
    std::string id;  ///< "register-B", "hollow", "relief-2", "mark-1"
    PocketKind kind = PocketKind::relief;
    Side side = Side::A;
    std::vector<Area> areas;
    double depth_mm = 0.0;  ///< the thickness when through
    bool through = false;
    std::optional<double> corner_radius_mm;  ///< least inside radius of the contour; none for a circle
};

/// A locating register, whether it became a Raised or a Pocket: what fits need to know.
struct Register {
    Side side = Side::A;
    bool is_spigot = false;
    double diameter_mm = 0.0;
    double length_mm = 0.0;               ///< height of a spigot, depth of a recess
    std::optional<double> mates_with_mm;  ///< diameter of the other part's register, where known
    std::optional<double> mates_most_mm;  ///< its upper limit, where known
    std::optional<Fit> fit;
};

/// Where a pattern's positions came from, and the holes it made.
struct Pattern {
    std::string name;
    Side seen_from = Side::B;
    bool measured_on = false;  ///< the file said `measured_on` (the casting), not `seen_from`
    bool from_standard = false;
    std::optional<double> circle_diameter_mm;
    std::vector<std::size_t> holes;  ///< indices into Plan::holes
    /// Line of the pattern in the parameter file; 0 when it has none.
    int line = 0;
    std::string survey =
        {};  ///< the result file its points were taken from; "" where the file gives them itself
    std::string datum = {};  ///< of that survey, in words
};

/// A double bend about lines parallel to Y that shifts what lies beyond it along Z, both legs staying
/// parallel to the XY plane.
struct Joggle {
    double rise_mm = 0.0;   ///< along +Z; negative goes down; never 0
    double start_mm = 0.0;  ///< x of the first bend's start
    double run_mm = 0.0;    ///< along X, to the second bend's end
    double inside_radius_mm = 0.0;
    double k_factor =
        0.0;  ///< place of the neutral line in a bend, from the inside, as a share of the thickness
};

/// A prismatic body between z = 0 and z = thickness.
struct Slab {
    Contour outline{Circle{}};
    double thickness_mm = 0.0;
    std::optional<double> edge_break_mm;
    bool edge_break_modelled = false;  ///< 45 degrees on the outline's edges of both faces
    /// The slab is then a strip of uniform width between the bends, and all beyond the second one lies
    /// `rise_mm` higher; the outline and every cut are given as seen from above, their depths from the leg's
    /// own faces.
    std::optional<Joggle> joggle;
};

/// A round hole square to Z, drilled into the part's side: a pinch bolt's.
struct CrossHole {
    std::string id;
    HoleKind kind = HoleKind::drilled;
    Point3 at_mm{};             ///< where its axis enters
    Point3 direction{0, 1, 0};  ///< unit, into the metal
    double diameter_mm = 0.0;
    double depth_mm = 0.0;  ///< from `at_mm`
    std::optional<Thread> thread;
    std::optional<Fastener> fastener;
};

/// An end of a round rod; a rod thicker than `diameter_mm` is turned down to it with a square shoulder.
struct RodEnd {
    double diameter_mm = 0.0;  ///< the thread's major diameter, or the rod's own
    double length_mm = 0.0;    ///< threaded or turned; 0 for a plain end
    std::optional<Thread> thread;
    bool thread_modelled = false;  ///< a real helix; else a plain cylinder of the major diameter
    double chamfer_mm = 0.0;       ///< along the axis, 45 degrees; 0: square
};

/// What is screwed onto a rod's end.
struct Fitting {
    std::string name;
    double pin_offset_mm = 0.0;    ///< from its mouth to the pin, along the rod
    double thread_depth_mm = 0.0;  ///< most thread that fits
    double engaged_mm = 0.0;       ///< thread in it as set
};

struct RodLoad {
    double push_n = 0.0;
    double pull_n = 0.0;
};

/// A round rod whose centreline runs from corner to corner, every inner corner rounded.
struct Rod {
    double diameter_mm = 0.0;
    std::vector<Point3> corners;
    double bend_radius_mm = 0.0;  ///< to the centreline
    std::array<RodEnd, 2> ends;   ///< at the first and at the last corner
    std::array<std::optional<Fitting>, 2> fittings;
    std::optional<RodLoad> load;
};

/// An arm of a crank: which holes and bosses are its own.
struct CrankArm {
    std::string name;
    double length_mm = 0.0;
    Angle angle;
    double eye_diameter_mm = 0.0;
    double eye_height_mm = 0.0;
    std::size_t eye_hole = 0;  ///< index into Plan::holes
};

/// A crank's own figures, for its rules and its report; the metal itself is body, raised rings and holes.
struct Crank {
    double hub_diameter_mm = 0.0;
    double hub_height_mm = 0.0;
    std::vector<CrankArm> arms;
};

/// The block behind a split pivot, through which a pinch bolt goes along Y.
struct Clamp {
    std::string bolt;
    double slit_mm = 0.0;
    double lug_width_mm = 0.0;    ///< along Y, both lugs and the slit
    double lug_end_mm = 0.0;      ///< from the pivot's axis, along -X
    double bolt_behind_mm = 0.0;  ///< the bolt's axis, likewise
    double lug_height_mm = 0.0;
    double seat_mm = 0.0;  ///< diameter that the bolt's head or washer needs
};

/// An offset arm's own figures; the metal itself is body, raised boss, holes and slit. Hole 0 is the pivot.
struct Arm {
    double length_mm = 0.0;  ///< from the pivot's axis to the eye's centre
    double strip_width_mm = 0.0;
    double boss_diameter_mm = 0.0;  ///< 0: the strip's own end
    std::size_t eye_hole = 0;       ///< index into Plan::holes
    std::optional<double> rod_force_n;
    std::optional<Clamp> clamp;
};

/// `"rules": {"edge-distance": {"warn": 1.25}}` of the parameter file.
struct RuleOverride {
    std::string rule;
    std::optional<double> warn;
    std::optional<double> stop;
    int line = 0;
};

enum class Units { mm, in };

struct Plan {
    std::string part;  ///< the kind: "adapter_plate"
    std::string name;
    std::string revision;
    std::string note;
    int quantity = 1;
    Units units = Units::mm;
    Material material;
    std::array<std::string, 2> side_names;  ///< what bolts to A and to B, in the user's words
    std::array<std::optional<Material>, 2> side_materials;

    Slab body;
    std::string thickness_from =
        {};  ///< the stack's result file the thickness was taken from; "" where the file gives it
    std::vector<Raised> raised;
    std::vector<Hole> holes;  ///< the bore first, then pattern by pattern
    std::vector<Pocket> pockets;
    std::vector<Register> registers;
    std::vector<Pattern> patterns;
    std::vector<RuleOverride> rule_overrides;

    /// Hollow's own figures, for the rules; the metal itself is a Pocket.
    struct HollowFigures {
        double rim_mm = 0.0;
        double around_holes_mm = 0.0;
    };
    std::optional<HollowFigures> hollow;

    std::vector<CrossHole> cross_holes;
    std::optional<Crank> crank;
    std::optional<Arm> arm;
    /// None where the file names nothing to keep clear of.
    std::optional<Swing> swing;
    /// The part is a rod then, and there is no slab: `body` and all that is cut into it are empty.
    std::optional<Rod> rod;
};

/// Whether the whole boundary follows from `skin()`: a slab without joggle and without holes from the side.
bool is_prism(const Plan& plan);

/// Z of face A at a place: 0, or the rise of the joggle beyond its second bend.
double level_mm(const Plan& plan, Point at);

/// Name of the output files without extension: "winch-adapter", or "winch-adapter-rC" with revision C.
std::string file_stem(const Plan& plan);
std::string file_stem(const std::string& name, const std::string& revision);

}  // namespace fitup::plan
