#pragma once

#include <span>
#include <string_view>

/// Position tolerances of holes for fasteners after ASME Y14.5, all in mm: diameters of tolerance zones.
namespace fitup::calculations {

/// How a fastener is held: loose in both parts, or screwed, pressed or studded into one of them.
enum class Fastening { floating, fixed };

/// A formula of the standard, as a row of data.
struct PositionFormula {
    Fastening fastening;
    std::string_view formula;
    double share;  ///< of hole less fastener that each part's zone may have
    std::string_view needs;
    std::string_view source;
};
std::span<const PositionFormula> position_formulas();
const PositionFormula& formula_of(Fastening fastening);

/// A clearance hole and what goes through it, at the limits that count.
struct HoleAndFastener {
    double least_hole_mm = 0.0;     ///< H: at most material
    double most_hole_mm = 0.0;      ///< at least material
    double most_fastener_mm = 0.0;  ///< F: at most material
};

/// The zone that each part may have; it stands on the drawing with the symbol for most material.
struct PositionTolerance {
    /// Negative: the largest fastener does not go into the least hole.
    double at_most_material_mm = 0.0;
    /// Of a clearance hole made to its upper limit: what it is larger by is added to its zone. A tapped hole
    /// gains nothing.
    double at_least_material_mm = 0.0;
};
PositionTolerance position_tolerance(const HoleAndFastener& sizes, Fastening fastening);

/// The least hole for a fastener and the zones of both parts: F + T floating, F + T1 + T2 fixed.
double least_hole_mm(double most_fastener_mm, double first_zone_mm, double second_zone_mm,
                     Fastening fastening);

}  // namespace fitup::calculations
