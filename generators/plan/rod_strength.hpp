#pragma once

#include <array>
#include <optional>
#include <string>

#include "plan/rod_path.hpp"

/// What a link rod is good for: its reach from pin to pin, its buckling load, and what its bends cost.
///
/// Symbols: d diameter of the shank, A its area, r = d/4 its radius of gyration, L pin to pin, e the farthest
/// that the centreline strays from the line through both pins, E Young's modulus, Sy yield strength.
namespace fitup::plan {

/// How a fitting sits on its end, and how far it can be screwed either way in half turns. "In" shortens the
/// rod.
struct Adjustment {
    double step_mm = 0.0;  ///< half a pitch
    int half_turns_in = 0;
    int half_turns_out = 0;
    double engaged_mm = 0.0;        ///< as set
    double least_engaged_mm = 0.0;  ///< wound out as far as it goes
    double most_engaged_mm = 0.0;   ///< wound in as far as it goes
};
/// Of a fitted end; nothing for a bare one.
///
/// Wound in until its depth is full or the end's thread is used up, wound out until one diameter of thread is
/// left in it (common practice; none of either where it is beyond that already).
std::optional<Adjustment> adjustment(const Rod& rod, std::size_t end);

/// The pins as set: `pin_offset - engaged` beyond each end along its axis; a bare end's own centre.
std::array<Point3, 2> pins(const Rod& rod);

/// Distance from pin to pin (from end to end without fittings).
struct PinToPin {
    double set_mm = 0.0;
    double least_mm = 0.0;  ///< over all settings in whole half turns
    double most_mm = 0.0;
};
PinToPin pin_to_pin(const Rod& rod);

/// A column's critical load, both ends pinned (K = 1).
struct Buckling {
    double load_n = 0.0;
    double slenderness = 0.0;  ///< L / r
    /// sqrt(2 pi^2 E / Sy): at and above it Euler governs, below it Johnson. None without a yield strength;
    /// Euler's load then stands alone.
    std::optional<double> change_over;
    bool is_euler = true;
};
/// Round bar: Euler pi^2 E A / (L/r)^2, Johnson A Sy (1 - Sy (L/r)^2 / (4 pi^2 E)).
/// Source: Machinery's Handbook, columns; worked examples in the tests.
Buckling round_column(double diameter_mm, double length_mm, double youngs_modulus_gpa,
                      std::optional<double> yield_mpa);
/// Of the rod's shank from pin to pin as set; nothing where the material has no Young's modulus.
std::optional<Buckling> buckling(const Rod& rod, const Material& material);

/// A bent rod beside a straight one of the same stock and pin to pin length.
struct BentShare {
    double eccentricity_mm = 0.0;    ///< e
    double stress_times = 1.0;       ///< greatest stress over the direct one: 1 + 8 e / d, no push amplified
    double give_times = 1.0;         ///< shortening under a small load, over the straight rod's
    double even_moment_times = 1.0;  ///< bound of `give_times`: 1 + 16 (e/d)^2, were all of it e off the line
};
/// `give_times` by Castigliano's theorem, the integral along the centreline in closed form on straights and
/// by Gauss' rule on arcs (1e-12); each moment taken as bending, none as twisting. 1 where both pins are in
/// one place.
BentShare bent_share(const Rod& rod, const RodPath& path);

/// Greatest stress of an eccentric column, both ends pinned: the secant formula
/// P/A (1 + 8 e/d sec(L/(2 r) sqrt(P / (E A)))). Infinite at and over Euler's load.
/// Source: Timoshenko and Gere, Theory of Elastic Stability, and any text on mechanics of materials.
double secant_stress_mpa(double diameter_mm, double length_mm, double eccentricity_mm,
                         double youngs_modulus_gpa, double push_n);
/// Sideways deflection at the middle of such a column: e (sec(..) - 1). Infinite at and over Euler's load.
double secant_deflection_mm(double diameter_mm, double length_mm, double eccentricity_mm,
                            double youngs_modulus_gpa, double push_n);

/// Stresses under the rod's load; nothing without a load.
struct LoadedRod {
    double direct_mpa = 0.0;  ///< the greater of push and pull over the shank's area
    double pull_mpa = 0.0;    ///< P/A (1 + 8 e/d)
    /// By the secant formula; nothing where the material has no Young's modulus.
    std::optional<double> push_mpa;
    std::optional<double> push_deflection_mm;
    /// In the weaker thread at its basic minor diameter, with what that thread lies off the line of the pins;
    /// 0 without threads.
    double thread_mpa = 0.0;
    /// The greatest of them.
    double most_mpa() const;
};
std::optional<LoadedRod> loaded(const Rod& rod, const RodPath& path, const Material& material);

/// The push at which the secant formula's stress reaches the yield strength; nothing where the material lacks
/// a figure. Accuracy 1e-9 relative.
std::optional<double> yield_push_n(const Rod& rod, const RodPath& path, const Material& material);

}  // namespace fitup::plan
