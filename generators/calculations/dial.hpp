#pragma once

#include <array>
#include <optional>

/// An indicator carried round by one shaft: readings at 12, 3, 6 and 9 o'clock to where the swept part lies.
namespace fitup::calculations {

/// As one stands, looking at the swept face: X to the right (3 o'clock), Y up (12). Readings in mm, greater
/// where the plunger is pushed in.
struct DialReadings {
    double at_12 = 0.0, at_3 = 0.0, at_6 = 0.0, at_9 = 0.0;
    std::optional<double> again_at_12;
    /// What the arm's sag alone makes of the reading at 6, with 0 at 12.
    double sag_mm = 0.0;
    /// Sweeping the outside of a spigot or boss; else the inside of a bore.
    bool outside = false;
    double face_diameter_mm = 0.0;  ///< of the circle swept on a face; 0: a bore or spigot
};

struct DialResult {
    /// Where the swept part's axis lies from the axis that carries the indicator; of a face, where it leans
    /// towards the indicator, as its rise over the swept diameter.
    std::array<double, 2> offset_mm{};
    double total_offset_mm = 0.0;
    double reading_mm = 0.0;  ///< from least to most, all round: twice the offset; of a face the rise itself
    std::array<double, 2> move_mm{};  ///< to bring it true
    double sum_error_mm = 0.0;        ///< (12 + 6) less (3 + 9): 0 for a pure offset
    std::optional<double> return_error_mm;
    bool sum_agrees = true;
    bool returns = true;
};

/// A pure offset makes 12 + 6 equal to 3 + 9 (one graduation of an inch dial is let pass); the last reading
/// must return to the first within half of one. Common practice, no source.
inline constexpr double sum_agrees_within_mm = 0.0254;
inline constexpr double returns_within_mm = 0.0127;

DialResult dial_in(const DialReadings& readings);

}  // namespace fitup::calculations
