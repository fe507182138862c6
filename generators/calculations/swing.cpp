#include "calculations/swing.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "calculations/lever_shape.hpp"

namespace fitup::calculations {

namespace {

using plan::Work;

/// A clearance that is met exactly is met: what the answer itself may be off by does not count against it.
constexpr double certain_within_mm = 2.0 * clearance_within_mm;

struct Limits {
    double stop_mm = 0.0;
    double warn_mm = 0.0;
};

/// The file's `clearance`, unless its `rules` say otherwise.
Limits limits_of(const plan::Plan& plan) {
    Limits limits{plan.swing->clearance_mm, 0.0};
    for (const plan::RuleOverride& entry : plan.rule_overrides) {
        if (entry.rule != "swing-clearance") continue;
        limits.stop_mm = entry.stop.value_or(limits.stop_mm);
        limits.warn_mm = entry.warn.value_or(limits.warn_mm);
    }
    return limits;
}

std::vector<double> as_list(const Vector& v) { return {v[0], v[1], v[2]}; }

Work figures_of(const Clearance& clearance) {
    return {{"obstacle", "to", clearance.obstacle},
            {"least_clearance_mm", "least", clearance.least_mm},
            {"error_mm", "too much by at most", clearance.error_mm},
            {"at_deg", "at", clearance.at_deg},
            {"points_mm", "between",
             std::vector<std::vector<double>>{as_list(clearance.on_lever), as_list(clearance.on_obstacle)}}};
}

std::string point_text(const Vector& v) {
    return "[" + short_text(v[0], 2) + ", " + short_text(v[1], 2) + ", " + short_text(v[2], 2) + "]";
}

std::string message_of(const Clearance& clearance) {
    const std::string place = " at " + short_text(clearance.at_deg, 2) + " degrees of the swing, at " +
                              point_text(clearance.on_obstacle);
    if (clearance.touches)
        return "the lever touches it" + place + "; move it, or change the offset or the shape";
    return "the lever passes within " + short_text(clearance.least_mm, 3) + " mm of it" + place;
}

}  // namespace

std::vector<Clearance> swing_clearances(const plan::Plan& plan, std::span<const ObstacleShape> obstacles) {
    const std::vector<Convex> lever = lever_shape(plan);
    std::vector<Clearance> clearances;
    for (const ObstacleShape& obstacle : obstacles)
        clearances.push_back(least_clearance(lever, obstacle, plan.swing->from, plan.swing->to));
    return clearances;
}

plan::Work swing_figures(std::span<const Clearance> clearances, std::span<const ObstacleShape> obstacles) {
    if (clearances.empty()) return {};
    const auto least = std::min_element(clearances.begin(), clearances.end(),
                                        [](const auto& a, const auto& b) { return a.least_mm < b.least_mm; });
    Work swing = figures_of(*least);
    std::vector<Work> each;
    for (std::size_t i = 0; i < clearances.size(); ++i) {
        each.push_back(figures_of(clearances[i]));
        if (obstacles[i].is_shell)
            each.back().push_back({"triangles", "triangles", double(obstacles[i].pieces.size())});
    }
    swing.push_back({"each", "each", std::move(each)});
    return {{"swing", "swing clearance", std::move(swing)}};
}

plan::Findings swing_findings(const plan::Plan& plan, std::span<const Clearance> clearances) {
    const Limits limits = limits_of(plan);
    plan::Findings findings;
    for (const Clearance& clearance : clearances) {
        const double certain_mm = std::max(0.0, clearance.least_mm - clearance.error_mm);
        const bool stops = clearance.touches || certain_mm < limits.stop_mm - certain_within_mm;
        if (!stops && certain_mm >= limits.warn_mm - certain_within_mm) continue;
        plan::Finding finding =
            plan::finding_of("swing-clearance", stops ? plan::Severity::stop : plan::Severity::warn,
                             clearance.obstacle, message_of(clearance));
        finding.value = certain_mm;
        finding.limit = stops ? limits.stop_mm : limits.warn_mm;
        finding.unit = "mm";
        findings.push_back(std::move(finding));
    }
    return findings;
}

plan::Work rod_clearance_figures(std::span<const RodClearance> clearances) {
    std::vector<Work> rows;
    for (const RodClearance& one : clearances) {
        rows.push_back({{"rod", "rod", one.rod}});
        const Work figures = figures_of(one.clearance);
        rows.back().insert(rows.back().end(), figures.begin(), figures.end());
    }
    if (rows.empty()) return {};
    return {{"rod_clearances", "rods in motion", std::move(rows)}};
}

plan::Findings rod_clearance_findings(const plan::Swing& surroundings,
                                      std::span<const RodClearance> clearances) {
    plan::Findings findings;
    for (const RodClearance& one : clearances) {
        const double certain_mm = std::max(0.0, one.clearance.least_mm - one.clearance.error_mm);
        const double limit_mm = surroundings.clearance_mm - rod_clearance_within_mm;
        if (!one.clearance.touches && certain_mm >= limit_mm) continue;
        const std::string place = " at an input of " + short_text(one.clearance.at_deg, 2) + " degrees, at " +
                                  point_text(one.clearance.on_obstacle);
        plan::Finding finding = plan::finding_of(
            "swing-clearance", plan::Severity::stop, one.rod + ", " + one.clearance.obstacle,
            one.clearance.touches
                ? "the rod touches it" + place
                : "the rod passes within " + short_text(one.clearance.least_mm, 3) + " mm of it" + place);
        finding.value = certain_mm;
        finding.limit = surroundings.clearance_mm;
        finding.unit = "mm";
        findings.push_back(std::move(finding));
    }
    return findings;
}

}  // namespace fitup::calculations
