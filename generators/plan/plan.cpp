#include "plan/plan.hpp"

namespace fitup::plan {

const char* to_text(HoleKind kind) {
    switch (kind) {
        case HoleKind::bore:
            return "bore";
        case HoleKind::clearance:
            return "clearance";
        case HoleKind::drilled:
            return "drilled";
        case HoleKind::tapped:
            return "tapped";
        case HoleKind::dowel:
            return "dowel";
    }
    return "";
}

bool is_prism(const Plan& plan) { return !plan.rod && !plan.body.joggle && plan.cross_holes.empty(); }

double level_mm(const Plan& plan, Point at) {
    const auto& joggle = plan.body.joggle;
    return joggle && at.x_mm > joggle->start_mm + joggle->run_mm / 2.0 ? joggle->rise_mm : 0.0;
}

std::string file_stem(const Plan& plan) { return file_stem(plan.name, plan.revision); }

std::string file_stem(const std::string& name, const std::string& revision) {
    return revision.empty() ? name : name + "-r" + revision;
}

}  // namespace fitup::plan
