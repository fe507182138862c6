#pragma once

#include <array>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "parts/kinds.hpp"
#include "parts/layout.hpp"
#include "parts/reading.hpp"
#include "plan/plan.hpp"

/// The adapter plate's parameters, typed: every name looked up, every length in mm, nothing compared yet.
namespace fitup::parts {

struct RoundOutline {
    double diameter_mm = 0.0;
};
struct RectangleOutline {
    double width_mm = 0.0;
    double height_mm = 0.0;
    double corner_radius_mm = 0.0;
};
struct PolygonOutline {
    std::vector<plan::Point> points;
    double corner_radius_mm = 0.0;
};
struct AroundOutline {
    double margin_mm = 0.0;
};
using Outline = std::variant<RoundOutline, RectangleOutline, PolygonOutline, AroundOutline>;

struct SlotParameters {
    Field field;
    double length_mm = 0.0;             ///< over all
    std::optional<std::string> toward;  ///< id of a hole; else `direction`
    Angle direction;                    ///< as seen, before the pattern's `rotate`
};

/// What every hole of a pattern is.
struct HoleParameters {
    Field field;
    /// All that hangs on neither place nor plate: kind, side, diameter, recess, countersink, thread, fit,
    /// finish.
    plan::Hole hole;
    std::optional<double> depth_mm;  ///< of the thread, where there is one; none: through
    std::optional<double> drill_depth_mm;
    bool is_drilled_through = false;
    std::optional<Angle> point_angle;  ///< of a blind hole; none: flat
    std::optional<SlotParameters> slot;
};

/// What a pattern has from a survey beside its places.
struct SurveyParameters {
    std::string file;                       ///< as the plate's file names it
    std::string datum;                      ///< in words; "" where the survey states none
    std::vector<double> position_sigma_mm;  ///< of each point, where least well known
    std::string does_not_bolt_up;           ///< why not, in words; "" where it does or was not asked
    std::string suspects;  ///< readings that disagree with the rest, by name; "" where none does
};

struct PatternParameters {
    Field field;
    std::string name;
    plan::Side seen_from = plan::Side::B;
    bool measured_on = false;
    bool from_standard = false;
    Layout layout;
    HoleParameters hole;
    std::optional<SurveyParameters> survey = {};
};

struct HollowParameters {
    Field field;
    plan::Side side = plan::Side::A;
    double rim_mm = 0.0;
    double depth_mm = 0.0;
    double corner_radius_mm = 0.0;
    double around_holes_mm = 0.0;
    double around_bore_mm = 0.0;
};

struct RegisterParameters {
    Field field;
    plan::Register reg;
    std::optional<double> bore_mm;  ///< of a spigot; none: the plate's bore
};

struct ReliefSlot {
    plan::Point from;
    plan::Point to;
    double width_mm = 0.0;
};
struct ReliefRectangle {
    plan::Point at;
    RectangleOutline size;
    Angle angle;
};
struct ReliefParameters {
    Field field;
    plan::Side side = plan::Side::A;
    std::variant<plan::Circle, ReliefSlot, ReliefRectangle, PolygonOutline> shape;
    std::optional<double> depth_mm;  ///< none: through
};

struct MarkParameters {
    Field field;
    std::string text;
    plan::Side side = plan::Side::A;
    plan::Point at_mm;
    double height_mm = 0.0;
    double depth_mm = 0.0;
    Angle angle;
};

struct AdapterPlate {
    plan::Plan header;  ///< what all kinds share and the sides' names; no body yet
    double thickness_mm = 0.0;
    std::string thickness_from;  ///< the stack's result; "" where the file states it
    Outline outline;
    std::optional<plan::Hole> bore;
    std::vector<RegisterParameters> registers;
    std::optional<HollowParameters> hollow;
    std::vector<PatternParameters> patterns;
    std::vector<ReliefParameters> reliefs;
    std::vector<MarkParameters> marks;
    std::optional<double> edge_break_mm;
    bool edge_break_modelled = false;
};

/// Most holes of one plate, all patterns together: a few seconds of making, and far more than a plate has.
inline constexpr std::size_t most_holes = 4000;

/// Reads the parameters; unknown names, double names and layouts of later versions become faults of the
/// reader.
AdapterPlate read_adapter_plate(Reader& reader);

/// The file's patterns, after the one that its `housing` brings.
std::vector<PatternParameters> read_patterns(Reader& reader, const Field& root);

/// A pattern's circle, clock or points with its `rotate` and `shift`.
Layout read_layout(Reader& reader, const Field& field);
/// The face that a pattern was seen from, by its `seen_from` or `measured_on`.
plan::Side read_seen_from(const Reader& reader, const Field& field);

/// Reads one hole's parameters (holes of a pattern are equal).
HoleParameters read_hole(Reader& reader, const Field& field);

/// The published pattern of the file's `housing`, unless a pattern of the file replaces it; nothing without
/// `housing`.
std::optional<PatternParameters> housing_pattern(Reader& reader, const Field& housing);
/// The published spigot of the file's `housing`.
std::optional<RegisterParameters> housing_register(const Reader& reader, const Field& housing);

/// Plans a plate whose parameters were read without faults, or changed since.
/// @param reader  takes the faults of shapes that do not exist, at their keys
Planned plan_of(Reader& reader, const AdapterPlate& plate);

/// Plans an adapter plate. Shapes that do not exist are faults.
Planned plan_adapter_plate(const parameters::Document& document);

}  // namespace fitup::parts
