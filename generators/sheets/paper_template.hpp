#pragma once

#include <string>
#include <vector>

#include "plan/paper.hpp"
#include "plan/plan.hpp"
#include "plan/profile.hpp"
#include "sheets/drawing.hpp"

/// Templates at true scale, on as many sheets of paper as it takes.
namespace fitup::sheets {

/// Length of the check bars: 180 mm, or 7 in for a file in inches.
double check_bar_mm(plan::Units units);

struct PaperTemplate {
    std::string suffix;  ///< of the file's name: "-paper-A"
    std::vector<Drawing> pages;
    int columns = 1, rows = 1;
    /// Holes that a cut between sheets runs through, since none goes round them.
    std::vector<std::string> cut_holes;
    /// The same at true size in one piece, for a plotter or a cutter; hole centres on the layer CENTRE.
    plan::Profile profile = {};
};

/// One template for each way of looking at a plate: what lies on the casting at A (and on the plate's face B)
/// is drawn as seen from B, and the other way round. Of a crank the view from B, of an arm its flat blank; of
/// a rod none.
///
/// Every sheet has both check bars, its place in the whole, which side it is and what it lies on; a bar runs
/// across the joined sheets. Sheets overlap by 12 mm with marks to lay on one another; cuts go round holes
/// where they can. Hole centres are crosses with a clear middle to punch through.
std::vector<PaperTemplate> paper_templates(const plan::Plan& plan, const plan::Paper& paper);

}  // namespace fitup::sheets
