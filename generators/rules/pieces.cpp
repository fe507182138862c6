// Rules nothing-left and part-in-pieces, as far as the plan alone can tell: what crosses is judged on the
// solid.
#include "plan/skin.hpp"
#include "rules/checks.hpp"
#include "rules/wording.hpp"

namespace fitup::rules {

plan::Findings check_pieces(const Subject& subject) {
    const plan::Plan& plan = subject.plan();
    // Holes that are inside the outline and apart cannot part the metal: only pockets, and rings that stand
    // on them, can.
    if (plan.pockets.empty() && plan.raised.empty()) return {};
    const plan::SkinResult result = plan::skin(plan);
    if (!result.overlapping.empty() || !result.overlapping_raised.empty() || result.skin.pieces == 1)
        return {};
    const plan::Point3 at{0.0, 0.0, plan.body.thickness_mm / 2.0};
    if (result.skin.pieces == 0)
        return {final_stop_of(
            "nothing-left", "",
            "what is cut away leaves no metal: make the bore, the openings or the depths smaller.", at)};
    return {
        final_stop_of("part-in-pieces", "",
                      "what is cut away leaves " + std::to_string(result.skin.pieces) +
                          " separate pieces: leave metal between the openings, or make the depths smaller.",
                      at)};
}

}  // namespace fitup::rules
