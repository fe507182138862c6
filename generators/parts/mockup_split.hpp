#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "parts/mockup_flat.hpp"

/// Where a mock-up is cut, so that every piece fits the printer's bed.
namespace fitup::parts {

/// The plate turned on the bed, and the rectangles it is cut into there; they fill its box, edge to edge.
struct Division {
    double turn_rad = 0.0;  ///< of the plate, anticlockwise
    std::vector<plan::Box2> cells;
};

struct Divided {
    std::optional<Division> division;
    /// Where there is none: the holes that are in the way of every cut.
    std::vector<std::string> in_the_way;
};

/// A cut keeps this far from a hole's edge (our own choice: two walls of a print).
inline constexpr double off_hole_mm = 3.0;

/// The fewest pieces, and of these the most even ones. Cuts run straight through the whole plate one way, and
/// from cut to cut the other way; the bore and wide openings may be cut through well inside, other holes
/// never.
/// @param key_mm  room that each piece needs for the keys that stand out on two of its sides
Divided divide(const Flat& flat, const std::array<double, 2>& bed_mm, double key_mm);

/// A cell as a curve to cut with; where it ends with the plate it goes on beyond it.
plan::Contour cell_outline(const plan::Box2& cell, const plan::Box2& whole);
plan::Box2 widened(const plan::Box2& cell, const plan::Box2& whole);

/// About the origin, the other way where `turn_rad` is negative.
Flat turned(const Flat& flat, double turn_rad);

}  // namespace fitup::parts
