#include "plan/plan.hpp"

#include "plan/finding.hpp"

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

const char* to_text(Severity severity) {
    switch (severity) {
        case Severity::note:
            return "note";
        case Severity::warn:
            return "warn";
        case Severity::stop:
            return "stop";
    }
    return "";
}

std::string file_stem(const Plan& plan) {
    return plan.revision.empty() ? plan.name : plan.name + "-r" + plan.revision;
}

}  // namespace fitup::plan
