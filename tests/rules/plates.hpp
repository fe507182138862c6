#pragma once

#include <algorithm>
#include <string>

#include "plan/finding.hpp"
#include "plan/plan.hpp"
#include "rules/rules.hpp"

/// Plans made by hand, and questions about findings, for the rules' tests.
namespace fitup::rules::plates {

inline plan::Material aluminium() {
    return {"aluminium 6061-T6", 2700.0, 68.9, 276.0, 23.6e-6, "aluminium", "test"};
}
inline plan::Material steel() { return {"mild steel A36", 7850.0, 200.0, 250.0, 11.7e-6, "steel", "test"}; }
inline plan::Material iron() { return {"cast iron grey", 7190.0, 67.0, {}, 10.5e-6, "cast iron", "test"}; }

/// A round plate without a hole.
inline plan::Plan disc(double diameter_mm = 430.0, double thickness_mm = 40.0) {
    plan::Plan plan;
    plan.part = "adapter_plate";
    plan.name = "winch-adapter";
    plan.material = aluminium();
    plan.side_names = {"flywheel housing", "winch gearbox"};
    plan.body.outline = plan::Contour(plan::Circle{{0.0, 0.0}, diameter_mm / 2.0});
    plan.body.thickness_mm = thickness_mm;
    return plan;
}

inline plan::Hole hole(std::string id, plan::Point at_mm, double diameter_mm) {
    plan::Hole hole;
    hole.pattern = id.substr(0, id.rfind('-'));
    hole.id = std::move(id);
    hole.at_mm = at_mm;
    hole.diameter_mm = diameter_mm;
    hole.depth_mm = 40.0;
    return hole;
}

inline plan::Hole bore(double diameter_mm) {
    plan::Hole bore = hole("bore", {0.0, 0.0}, diameter_mm);
    bore.kind = plan::HoleKind::bore;
    bore.pattern.clear();
    return bore;
}

inline plan::Hole blind(std::string id, plan::Point at_mm, double diameter_mm, plan::Side from,
                        double depth_mm) {
    plan::Hole blind = hole(std::move(id), at_mm, diameter_mm);
    blind.from = from;
    blind.through = false;
    blind.depth_mm = depth_mm;
    blind.point_angle = Angle::from_degrees(118.0);
    return blind;
}

inline plan::Thread m10(double depth_mm) {
    plan::Thread thread;
    thread.designation = "M10";
    thread.major_mm = 10.0;
    thread.pitch_mm = 1.5;
    thread.minor_mm = 8.376;
    thread.tap_drill_mm = 8.5;
    thread.depth_mm = depth_mm;
    return thread;
}

/// A blind M10 from side B.
inline plan::Hole tapped(std::string id, plan::Point at_mm, double thread_mm, double drill_mm) {
    plan::Hole tapped = blind(std::move(id), at_mm, 8.5, plan::Side::B, drill_mm);
    tapped.kind = plan::HoleKind::tapped;
    tapped.thread = m10(thread_mm);
    return tapped;
}

inline plan::Hole clearance(std::string id, plan::Point at_mm, double diameter_mm, std::string fastener,
                            double fastener_mm) {
    plan::Hole clearance = hole(std::move(id), at_mm, diameter_mm);
    clearance.kind = plan::HoleKind::clearance;
    clearance.fastener = plan::Fastener{std::move(fastener), fastener_mm};
    return clearance;
}

/// A register, relief or hollow of one area.
inline plan::Pocket pocket(std::string id, plan::PocketKind kind, plan::Side side, plan::Contour outer,
                           double depth_mm) {
    plan::Pocket pocket;
    pocket.id = std::move(id);
    pocket.kind = kind;
    pocket.side = side;
    pocket.areas.push_back({std::move(outer), {}});
    pocket.depth_mm = depth_mm;
    return pocket;
}

inline plan::Plan with(plan::Plan plan, std::vector<plan::Hole> holes) {
    for (plan::Hole& hole : holes) plan.holes.push_back(std::move(hole));
    return plan;
}

/// The pattern that owns the holes whose ids start with its name.
inline plan::Pattern& add_pattern(plan::Plan& plan, const std::string& name) {
    plan::Pattern pattern;
    pattern.name = name;
    for (std::size_t i = 0; i < plan.holes.size(); ++i) {
        if (plan.holes[i].pattern == name) pattern.holes.push_back(i);
    }
    plan.patterns.push_back(std::move(pattern));
    return plan.patterns.back();
}

/// The finding of a rule; the one at `where` when given. Null when there is none.
inline const plan::Finding* find(const plan::Findings& findings, const std::string& rule,
                                 const std::string& where = "") {
    const auto found = std::find_if(findings.begin(), findings.end(), [&](const plan::Finding& finding) {
        return finding.rule == rule && (where.empty() || finding.where == where);
    });
    return found == findings.end() ? nullptr : &*found;
}

}  // namespace fitup::rules::plates
