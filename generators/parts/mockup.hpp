#pragma once

#include <string>
#include <vector>

#include "plan/finding.hpp"
#include "plan/paper.hpp"
#include "plan/plan.hpp"

/// The mock-up: a thin plate to print and try the fit with, as plans like any other.
///
/// It is larger by 1 / (1 - shrinkage) about the datum, so that it comes out true; the allowance is added to
/// a hole's diameter before that. The thickness is not scaled: nothing fits by it, and layers decide it.
///
/// - Holes through the part go through at their nominal diameter (a thread's major one, a reamed hole's
///   finished one); of blind ones a pilot hole shows the place.
/// - A register's recess and a relief become openings where no hole lies within, since what stands out of the
///   casting must go in; else their outline is marked. A spigot becomes ledges, up to 3 mm high, that enter
///   the casting's recess. Recesses and countersinks of holes are marked by their outline.
/// - Names, sizes and sides are sunk 0.4 mm into the faces.
namespace fitup::parts {

struct MockupPiece {
    std::string suffix;  ///< of the file's name: "-mockup", "-mockup-2", "-mockup-bar"
    plan::Plan plan;     ///< named as its files, without revision
};

struct MadeMockup {
    std::vector<MockupPiece> pieces;  ///< the test bar last; none for a part without a mock-up
    plan::Findings findings;          ///< notes and warnings: what has no room, what could not be cut
};

/// Cost: a plate with 24 holes some 20 ms.
MadeMockup mockup(const plan::Plan& plan, const plan::Mockup& settings);

}  // namespace fitup::parts
