#pragma once

#include <array>
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

}  // namespace fitup::plan
