#include "calculations/swing.hpp"

#include <algorithm>
#include <cmath>

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
            {"error_mm", "true within", clearance.error_mm},
            {"at_deg", "at", clearance.at_deg},
            {"points_mm", "between",
             std::vector<std::vector<double>>{as_list(clearance.on_lever), as_list(clearance.on_obstacle)}}};
}

std::string point_text(const Vector& v) {
    return "[" + short_text(v[0], 2) + ", " + short_text(v[1], 2) + ", " + short_text(v[2], 2) + "]";
}

/// What of a clearance is certain, and how it stands to a limit.
double certain_mm(const Clearance& clearance) {
    return std::max(0.0, clearance.least_mm - clearance.less_by_mm);
}

/// "the lever", "of the swing"; "the rod", "of the input".
std::string message_of(const Clearance& clearance, const std::string& what, const std::string& angle,
                       const std::string& advice) {
    const std::string place = " at " + angle + ", at " + point_text(clearance.on_obstacle);
    if (clearance.touches) return what + " touches it" + place + advice;
    return what + " passes within " + short_text(clearance.least_mm, 3) + " mm of it" + place;
}

plan::Finding finding_at(const Clearance& clearance, plan::Severity severity, std::string where,
                         std::string message, double limit_mm) {
    plan::Finding finding =
        plan::finding_of("swing-clearance", severity, std::move(where), std::move(message));
    finding.value = certain_mm(clearance);
    finding.limit = limit_mm;
    finding.unit = "mm";
    return finding;
}

/// The distance of a shaft that stands in the pivot's bore to its wall: all metal lies outside the bore. None
/// where the obstacle is no such shaft.
std::optional<Clearance> in_pivot_bore(const plan::Plan& plan, const plan::Obstacle& obstacle) {
    const auto* bar = std::get_if<plan::RoundBar>(&obstacle.shape);
    if (!bar || plan.holes.empty() || bar->from[0] != bar->to[0] || bar->from[1] != bar->to[1]) return {};
    const double bore_mm = plan.holes.front().diameter_mm / 2.0,
                 off_mm = std::hypot(bar->from[0], bar->from[1]);
    const double gap_mm = bore_mm - off_mm - bar->diameter_mm / 2.0;
    if (gap_mm <= 0.0) return {};
    const Vector out =
        off_mm > 0.0 ? Vector{bar->from[0] / off_mm, bar->from[1] / off_mm, 0.0} : Vector{1, 0, 0};
    const double z_mm = (bar->from[2] + bar->to[2]) / 2.0;
    Clearance clearance;
    clearance.obstacle = obstacle.name;
    clearance.least_mm = gap_mm;
    clearance.at_deg = plan.swing->from.degrees();
    clearance.on_lever = out * bore_mm + Vector{0, 0, z_mm};
    clearance.on_obstacle = out * (bore_mm - gap_mm) + Vector{0, 0, z_mm};
    return clearance;
}

/// With the bore counted as metal a shaft in it seems to touch; where it stands beside the lever both are
/// right, and the greater says more.
Clearance clearance_of(const plan::Plan& plan, const LeverShape& lever, std::size_t index,
                       const ObstacleShape& obstacle) {
    Clearance solid = least_clearance(lever.pieces, obstacle, plan.swing->from, plan.swing->to);
    const auto bore = in_pivot_bore(plan, plan.swing->keep_clear[index]);
    if (bore && bore->least_mm > solid.least_mm - solid.less_by_mm) return *bore;
    solid.error_mm += lever.stands_out_mm;
    return solid;
}

}  // namespace

std::vector<Clearance> swing_clearances(const plan::Plan& plan, std::span<const ObstacleShape> obstacles) {
    const LeverShape lever = lever_shape(plan);
    std::vector<Clearance> clearances;
    for (std::size_t i = 0; i < obstacles.size(); ++i)
        clearances.push_back(clearance_of(plan, lever, i, obstacles[i]));
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
        const bool stops = clearance.touches || certain_mm(clearance) < limits.stop_mm - certain_within_mm;
        if (!stops && certain_mm(clearance) >= limits.warn_mm - certain_within_mm) continue;
        const std::string angle = short_text(clearance.at_deg, 2) + " degrees of the swing";
        findings.push_back(finding_at(
            clearance, stops ? plan::Severity::stop : plan::Severity::warn, clearance.obstacle,
            message_of(clearance, "the lever", angle, "; move it, or change the offset or the shape"),
            stops ? limits.stop_mm : limits.warn_mm));
    }
    return findings;
}

MotionJudgement judge_swing(const plan::Plan& plan, std::span<const ObstacleShape> obstacles) {
    const std::vector<Clearance> clearances = swing_clearances(plan, obstacles);
    return {swing_figures(clearances, obstacles), swing_findings(plan, clearances)};
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
    for (const auto& [rod, clearance] : clearances) {
        const bool is_clear = certain_mm(clearance) >= surroundings.clearance_mm - rod_clearance_within_mm;
        if (!clearance.touches && is_clear) continue;
        const std::string angle = "an input of " + short_text(clearance.at_deg, 2) + " degrees";
        findings.push_back(finding_at(clearance, plan::Severity::stop, rod + ", " + clearance.obstacle,
                                      message_of(clearance, "the rod", angle, ""),
                                      surroundings.clearance_mm));
    }
    return findings;
}

MotionJudgement judge_rods(const Linkage& linkage, const Chain& chain,
                           std::span<const ObstacleShape> obstacles) {
    const std::vector<RodClearance> clearances = rod_clearances(linkage, chain, obstacles);
    return {rod_clearance_figures(clearances), rod_clearance_findings(*linkage.surroundings, clearances)};
}

}  // namespace fitup::calculations
