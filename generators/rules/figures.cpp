// Rule unverified-figure: every figure of a handbook row that was recalled, as far as the plan used it.
#include <algorithm>
#include <cmath>

#include "rules/checks.hpp"
#include "rules/wording.hpp"
#include "trade/trade.hpp"

namespace fitup::rules {

namespace {

using plan::Finding;
using plan::Findings;
using plan::Hole;

/// A figure, its row's source, and the holes that rest on it.
struct Figure {
    std::string what;
    std::string advice;
    std::string source;
    std::string where;  ///< where it is of no hole
    std::vector<std::size_t> holes;
};

/// Rows say so in their source (trade/trade.hpp).
bool is_recalled(const std::string& source) {
    return source.find("unverified") != std::string::npos || source.find("from memory") != std::string::npos;
}

/// The figures of a part, each once, in the order in which they come up.
class Figures {
  public:
    void add(const Figure& figure) {
        if (!is_recalled(figure.source)) return;
        const auto known = std::find_if(figures_.begin(), figures_.end(), [&figure](const Figure& other) {
            return other.what == figure.what && other.source == figure.source;
        });
        if (known == figures_.end()) {
            figures_.push_back(figure);
        } else {
            known->holes.insert(known->holes.end(), figure.holes.begin(), figure.holes.end());
        }
    }
    const std::vector<Figure>& all() const { return figures_; }

  private:
    std::vector<Figure> figures_;
};

/// The row that a clearance hole's size is from: the plan carries only the bolt and the diameter.
const trade::ClearanceHole* clearance_row(const Hole& hole) {
    constexpr double same_size_mm = 1e-6;
    for (const char* fit : {"close", "normal", "loose"}) {
        const auto* row = trade::find_clearance_hole(hole.fastener->designation, fit);
        if (row != nullptr && std::abs(row->diameter_mm - hole.diameter_mm) < same_size_mm) return row;
    }
    return nullptr;
}

void add_fit(Figures& figures, const plan::Fit& fit, const std::string& where,
             std::vector<std::size_t> holes) {
    figures.add({"the limits of the fit " + fit.tolerance_class + " at " + length_text(fit.nominal_mm),
                 "compare them with a printed ISO 286-2 table", fit.source, where, std::move(holes)});
}

void add_hole(Figures& figures, const plan::Plan& plan, std::size_t index) {
    const Hole& hole = plan.holes[index];
    if (hole.thread)
        figures.add({"the thread or tap drill of " + hole.thread->designation,
                     "compare it with a printed tap drill chart",
                     hole.thread->source,
                     "",
                     {index}});
    if (hole.fastener) {
        if (const auto* row = clearance_row(hole))
            figures.add({"the " + row->fit + " clearance hole for " + hole.fastener->designation,
                         "try the bolt in a drilled scrap",
                         row->source.text,
                         "",
                         {index}});
    }
    if (hole.fit) add_fit(figures, *hole.fit, "", {index});
    if (hole.bush_fit) add_fit(figures, *hole.bush_fit, "", {index});
    if (hole.recess && hole.recess->holds && hole.recess->holds->unverified) {
        const plan::SunkFastener& held = *hole.recess->holds;
        figures.add({"the room for the " + held.designation + " " + held.what,
                     "measure it and try your own socket before cutting",
                     held.source,
                     "",
                     {index}});
    }
}

/// The published housing that a pattern is from: the plan carries its circle and its holes.
void add_housing(Figures& figures, const plan::Pattern& pattern) {
    constexpr double same_circle_mm = 1e-6;
    if (!pattern.from_standard || !pattern.circle_diameter_mm) return;
    for (const trade::Housing& row : trade::housings()) {
        if (std::abs(row.bolt_circle_mm - *pattern.circle_diameter_mm) > same_circle_mm) continue;
        figures.add({"the row of the SAE " + row.designation + " housing",
                     "measure the casting",
                     row.source.text,
                     pattern.name,
                     {}});
    }
}

/// Expansion decides where a register or bore is judged warm.
void add_expansion(Figures& figures, const plan::Material& material) {
    if (const auto* row = trade::find_material(material.name))
        figures.add({"the thermal expansion of " + material.name,
                     "where the warm fit is close, ask for the maker's figure",
                     row->expansion_source.text,
                     "material",
                     {}});
}

void add_materials(Figures& figures, const plan::Plan& plan) {
    figures.add({"density, stiffness or strength of " + plan.material.name,
                 "weigh a piece, or ask for the maker's figure",
                 plan.material.source,
                 "material",
                 {}});
    const bool is_judged_warm =
        std::any_of(plan.registers.begin(), plan.registers.end(),
                    [](const plan::Register& reg) { return reg.mates_with_mm.has_value(); }) ||
        std::any_of(plan.holes.begin(), plan.holes.end(),
                    [](const Hole& hole) { return hole.locates_on_mm.has_value(); });
    if (!is_judged_warm) return;
    add_expansion(figures, plan.material);
    for (const auto& side : plan.side_materials) {
        if (side) add_expansion(figures, *side);
    }
}

Finding note_on(const plan::Plan& plan, const Figure& figure) {
    const std::string where = figure.holes.empty() ? figure.where : holes_text(plan, figure.holes);
    Finding finding =
        note_of("unverified-figure", where,
                figure.what + " (" + where + ") rests on a figure that was recalled, not seen in " +
                    "print: " + figure.advice + ".");
    if (!figure.holes.empty()) finding.at_mm = place_of(plan, plan.holes[figure.holes.front()]);
    finding.source = figure.source;
    return finding;
}

}  // namespace

Findings check_figures(const Subject& subject) {
    const plan::Plan& plan = subject.plan();
    Figures figures;
    add_materials(figures, plan);
    for (const plan::Pattern& pattern : plan.patterns) add_housing(figures, pattern);
    for (std::size_t i = 0; i < plan.holes.size(); ++i) add_hole(figures, plan, i);
    for (const plan::Register& reg : plan.registers) {
        if (reg.fit) add_fit(figures, *reg.fit, std::string("register-") + plan::to_text(reg.side), {});
    }
    Findings findings;
    for (const Figure& figure : figures.all()) findings.push_back(note_on(plan, figure));
    return findings;
}

}  // namespace fitup::rules
