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

std::string file_stem(const Plan& plan) {
    return plan.revision.empty() ? plan.name : plan.name + "-r" + plan.revision;
}

}  // namespace fitup::plan
