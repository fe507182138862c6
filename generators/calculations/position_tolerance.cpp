#include "calculations/position_tolerance.hpp"

#include <algorithm>
#include <array>

namespace fitup::calculations {

namespace {

constexpr std::array formulas{
    PositionFormula{Fastening::floating, "T = H - F", 1.0, "clearance holes in both parts",
                    "ASME Y14.5, appendix on formulas for positional tolerancing"},
    PositionFormula{Fastening::fixed, "T = (H - F) / 2", 0.5, "a projected tolerance zone in the tapped part",
                    "ASME Y14.5, appendix on formulas for positional tolerancing"}};

}  // namespace

std::span<const PositionFormula> position_formulas() { return formulas; }

const PositionFormula& formula_of(Fastening fastening) {
    return *std::find_if(formulas.begin(), formulas.end(),
                         [fastening](const PositionFormula& one) { return one.fastening == fastening; });
}

PositionTolerance position_tolerance(const HoleAndFastener& sizes, Fastening fastening) {
    const double zone_mm = formula_of(fastening).share * (sizes.least_hole_mm - sizes.most_fastener_mm);
    return {zone_mm, zone_mm + sizes.most_hole_mm - sizes.least_hole_mm};
}

double least_hole_mm(double most_fastener_mm, double first_zone_mm, double second_zone_mm,
                     Fastening fastening) {
    // Floating, the bolt moves to suit: each hole answers for its own zone alone.
    return fastening == Fastening::floating ? most_fastener_mm + std::max(first_zone_mm, second_zone_mm)
                                            : most_fastener_mm + first_zone_mm + second_zone_mm;
}

}  // namespace fitup::calculations
