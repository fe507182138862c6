#pragma once

#include <array>
#include <optional>
#include <string>

namespace fitup::plan {

/// A sheet of paper, upright. Sizes: ISO 216 (A4, A3), ANSI Y14.1 (Letter, Tabloid).
struct PaperSize {
    std::string name = "A4";
    double width_mm = 210.0;
    double height_mm = 297.0;
};

/// How a paper template is to be printed.
struct Paper {
    PaperSize size;
    /// What the two check bars measured on an earlier print, across and up; the next print is corrected by
    /// it. Nothing: 0.
    std::array<double, 2> measured_mm{0.0, 0.0};
};

/// Third angle: a view lies on the side that it is seen from; first angle: on the other one (ISO 128-3).
enum class Projection { third, first };

/// What the drawing is made on.
struct DrawingSheet {
    PaperSize size{"A3", 297.0, 420.0};  ///< laid on its long side
    Projection projection = Projection::third;
    bool both_units = false;  ///< every dimension in the file's unit, the other in brackets
};

/// How a part is printed to try the fit with.
struct Mockup {
    double thickness_mm = 5.0;
    double hole_allowance_mm = 0.3;  ///< added to the diameter of every hole
    double pilot_mm = 3.0;           ///< hole that shows where a blind one is
    double shrinkage = 0.0;          ///< share by which the print shrinks
    double joint_gap_mm = 0.15;      ///< between the faces of a joint, where it is printed in pieces
    /// The printer's bed; nothing: as large as the part.
    std::optional<std::array<double, 2>> bed_mm = std::nullopt;
};

/// What stands in the files for printing where a thread is modelled: its helix, or a plain wall that an
/// actual screw or nut passes.
enum class PrintedThreads { modelled, cut_away };

/// How the part itself is printed, from STL and 3MF.
struct Print {
    PrintedThreads threads = PrintedThreads::modelled;
};

/// What a part's papers, its mock-up and its files for printing are made on.
struct Papers {
    Paper paper;  ///< of the templates
    DrawingSheet drawing;
    Mockup mockup;
    Print print = {};
};

}  // namespace fitup::plan
