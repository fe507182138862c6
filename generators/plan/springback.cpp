#include "plan/springback.hpp"

#include <algorithm>
#include <array>
#include <string_view>

namespace fitup::plan {

namespace {

/// Degrees that a bend of 90 degrees opens.
struct TradeFigure {
    std::string_view family;
    double least_deg = 0.0;
    double most_deg = 0.0;
};
// Trade guides: mild steel 2 to 3 degrees, 304 stainless 4 to 7.
constexpr std::array trade_figures{TradeFigure{"steel", 2.0, 3.0}, TradeFigure{"stainless", 4.0, 7.0}};

/// Degrees by the closed form; the neutral line keeps its length, so the angle goes as the radius.
std::optional<double> by_closed_form_deg(const Material& material, double inside_radius_mm,
                                         double thickness_mm, Angle bend) {
    if (!material.youngs_modulus_gpa || !material.yield_mpa) return std::nullopt;
    const double q =
        inside_radius_mm * *material.yield_mpa / (*material.youngs_modulus_gpa * 1000.0 * thickness_mm);
    const double ratio = 4.0 * q * q * q - 3.0 * q + 1.0;
    if (q <= 0.0 || q >= 0.5) return std::nullopt;
    const double middle_mm = inside_radius_mm + thickness_mm / 2.0;
    const double opened_mm = inside_radius_mm / ratio + thickness_mm / 2.0;
    return bend.degrees() * (1.0 - middle_mm / opened_mm);
}

}  // namespace

std::optional<Springback> springback(const Material& material, double inside_radius_mm, double thickness_mm,
                                     Angle bend) {
    const auto closed_deg = by_closed_form_deg(material, inside_radius_mm, thickness_mm, bend);
    const auto figure = std::find_if(trade_figures.begin(), trade_figures.end(),
                                     [&](const TradeFigure& row) { return row.family == material.family; });
    const double share = bend.degrees() / 90.0;
    if (figure == trade_figures.end()) {
        if (!closed_deg) return std::nullopt;
        return Springback{Angle::from_degrees(*closed_deg), Angle::from_degrees(*closed_deg),
                          "elastic closed form alone: the trade sees more"};
    }
    const double least_deg =
        std::min(closed_deg.value_or(figure->least_deg * share), figure->least_deg * share);
    return Springback{Angle::from_degrees(least_deg),
                      Angle::from_degrees(std::max(figure->most_deg * share, least_deg)),
                      "elastic closed form to what trade guides see"};
}

}  // namespace fitup::plan
