#pragma once

#include "sheets/cutting_line.hpp"
#include "sheets/view.hpp"

namespace fitup::sheets {

struct SectionOptions {
    /// How far centre lines stand out beyond the metal, in mm of the part.
    double overshoot_mm = 3.0;
    bool with_behind = true;  ///< edges seen behind the cut
    std::string name = "section";
};

/// A part made of prisms cut square to its faces: X as the line says (0 on the bore's axis for an aligned
/// one), Y up is the height above face A, so that face B is above. Of an arm the joggle is not shown.
///
/// - `ViewArea`s: the cut metal, to be hatched, to the drill's or minor diameter of threads. Their outlines
/// are
///   among the `visible` lines too.
/// - `visible`: also what is seen behind the cut (rims of cut holes, walls and floors of pockets, rings), and
///   across a thread the end of its full form.
/// - `thread`: lines of the major diameter of threads cut through their axis (ISO 6410-1; from memory,
///   unverified).
/// - `centre`: axes of holes cut through their axis, each with a mark at the face it is made from.
View section_view(const plan::Plan& plan, const CuttingLine& line, const SectionOptions& options = {});

}  // namespace fitup::sheets
