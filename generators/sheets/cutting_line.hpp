#pragma once

#include <string>
#include <vector>

#include "plan/plan.hpp"
#include "sheets/view.hpp"

/// Where a part is cut open square to its faces.
namespace fitup::sheets {

/// A plane of the cut, seen along Z: walked from `from` to `to` with what is looked at on the left.
struct CutPiece {
    plan::Point from, to;
    double from_mm = 0.0;  ///< X in the section view where it starts; it ends as much farther as it is long
    double length_mm() const { return plan::distance_mm(from, to); }
    double to_mm() const { return from_mm + length_mm(); }
};

/// Planes one after another. Two that meet at an angle are turned into one (aligned section); where one
/// starts apart from the end of the one before, the step between is not shown. `to_mm()` of each is `from_mm`
/// of the next.
struct CuttingLine {
    std::vector<CutPiece> pieces;
};

/// One plane through a place, running in a direction as far as the part's box reaches; X in the view is 0
/// there.
CuttingLine straight_cut(const plan::Plan& plan, plan::Point through, Angle along);

/// From the part's edge to the origin and out again, so that X in the view is the distance from the bore's
/// axis, negative on the first half.
CuttingLine aligned_cut(const plan::Plan& plan, Angle first, Angle second);

/// The cut that shows most with few steps: through the bore's axis and one hole of each callout (four at
/// most, those with recesses, threads and blind ends first), up to two on each half, past the edges of other
/// holes where it can. Of a crank along its first two arms; of an arm along the strip. Without holes along X.
/// Every piece runs towards or away from the origin, X in the view as in `aligned_cut`.
CuttingLine chosen_cut(const plan::Plan& plan);

/// How a cutting line shows in the view of a side.
struct CutMark {
    std::vector<plan::Point> line;  ///< over all pieces and the steps between them
    struct End {
        plan::Point at;
        plan::Point look;  ///< unit: which way the section is looked at, for the arrow
    };
    End first, last;
};
/// @param overshoot_mm  by which the ends stand out over the part
CutMark cut_mark(const CuttingLine& line, plan::Side side, double overshoot_mm = 6.0);

/// Whether a place lies on a piece, and where: X in the section view.
std::optional<double> place_on(const CuttingLine& line, plan::Point at);

}  // namespace fitup::sheets
