#include "sheets/order_text.hpp"

#include <algorithm>
#include <map>

#include "base/both_units.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "sheets/size_text.hpp"

namespace fitup::sheets {

namespace {

/// Lines; what goes on is set in.
class Lines {
  public:
    void add(const std::string& line, const std::string& indent = "") {
        text_ += indent + wrapped(line, indent + "  ") + "\n";
    }
    void gap() { text_ += "\n"; }
    std::string take() { return std::move(text_); }

  private:
    std::string text_;
};

void add_holes(const plan::Plan& plan, Lines& lines) {
    std::vector<std::pair<std::string, std::vector<std::string>>> groups;
    for (const plan::Hole& hole : plan.holes) {
        const std::string demand = hole_text(plan, hole);
        const auto found = std::find_if(groups.begin(), groups.end(),
                                        [&](const auto& group) { return group.first == demand; });
        if (found == groups.end())
            groups.push_back({demand, {hole.id}});
        else
            found->second.push_back(hole.id);
    }
    if (groups.empty()) return;
    lines.gap();
    lines.add("Holes and threads (ids as in the hole list):");
    for (const auto& [demand, ids] : groups) {
        const std::string named = ids.size() == 1 ? ids.front() : ids.front() + " .. " + ids.back();
        lines.add(std::to_string(ids.size()) + " x " + demand + " [" + named + "]", "  ");
    }
    for (const plan::CrossHole& hole : plan.cross_holes)
        lines.add("1 x " + (hole.thread ? hole.thread->designation : both_units(hole.diameter_mm)) +
                      ", drilled into the part's edge [" + hole.id + "]",
                  "  ");
}

void add_rod_ends(const plan::Plan& plan, Lines& lines) {
    if (!plan.rod) return;
    lines.gap();
    lines.add("Ends:");
    for (const plan::RodEnd& end : plan.rod->ends) {
        lines.add(end.thread ? end.thread->designation +
                                   (end.thread->hand == plan::Hand::left ? " left-hand" : " right-hand") +
                                   ", " + both_units(end.length_mm) + " full form" +
                                   (end.thread_modelled ? ", modelled as a thread" : ", modelled plain")
                             : "plain, " + both_units(end.diameter_mm),
                  "  ");
    }
    lines.add("Bent after threading or before as the shop prefers; the bend table goes with the order.",
              "  ");
}

void add_tolerances(const plan::Plan& plan, const plan::Findings& findings, Lines& lines) {
    lines.gap();
    const bool has_patterns = std::any_of(findings.begin(), findings.end(), [](const plan::Finding& finding) {
        return finding.rule == "position-tolerance";
    });
    lines.add(std::string("Tolerances: sizes without one to ISO 2768-1 medium.") +
              (has_patterns ? " It does not cover hole patterns:" : ""));
    for (const plan::Finding& finding : findings) {
        if (finding.rule == "position-tolerance") lines.add(finding.message, "  ");
    }
    for (const plan::Register& reg : plan.registers) {
        std::string text = std::string("side ") + plan::to_text(reg.side) +
                           (reg.is_spigot ? " spigot " : " register ") + both_units(reg.diameter_mm) + ", " +
                           short_text(reg.length_mm, 2) + (reg.is_spigot ? " mm high" : " mm deep");
        if (reg.fit) text += "; " + limits_text(*reg.fit);
        lines.add(text, "  ");
    }
    if (plan.body.edge_break_mm)
        lines.add("Edges broken " + short_text(*plan.body.edge_break_mm, 2) + " mm" +
                      (plan.body.edge_break_modelled ? " (modelled)." : " (not modelled)."),
                  "  ");
}

std::string what_it_is(const OrderedFile& file) {
    if (file.name.find("-drawing") != std::string::npos)
        return file.kind == "pdf" ? "the drawing: sizes, threads, fits with limits, position tolerances"
                                  : "a sheet of the drawing";
    if (file.kind == "pdf" && file.name.find("-sheet") != std::string::npos)
        return "to drill by: order of work, tools, X and Y";
    static const std::map<std::string, std::string> words{
        {"step", "the part to be made: one solid body, named; work from this"},
        {"stl", "triangles, for looking at and for a mock-up; millimetres"},
        {"3mf", "the same triangles with their unit and name, for printing"},
        {"dxf", "flat outline of a side or blank, a layer an operation"},
        {"csv", "every operation with X and Y, for the readout"},
        {"pdf", "a paper template at true scale, for the bench; of no authority"},
        {"svg", "a drawing"},
        {"png", "a picture, of no authority"}};
    const auto found = words.find(file.kind);
    return found == words.end() ? file.kind : found->second;
}

}  // namespace

std::string order_text(const plan::Plan& plan, const OrderedSize& size, const plan::Findings& findings,
                       std::span<const OrderedFile> files) {
    Lines lines;
    lines.add("ORDER: " + plan.name + (plan.revision.empty() ? "" : ", revision " + plan.revision) + ", " +
              std::to_string(plan.quantity) + " off");
    lines.add("Material: " + plan.material.name + ". State grade and temper on the certificate.");
    lines.add(
        "Units: the STEP file is in millimetres; sizes in this order in millimetres, inches in brackets.");
    lines.add("One body, over all " + over_all_text(size.box) + ", volume " +
              short_text(size.volume_mm3 / 1000.0, 3) + " cm3, mass " + short_text(size.mass_kg, 3) +
              " kg. Compare these first: a file opened in the wrong "
              "unit shows at once.");
    if (!plan.note.empty()) lines.add("Note: " + plan.note);
    add_holes(plan, lines);
    add_rod_ends(plan, lines);
    add_tolerances(plan, findings, lines);
    lines.gap();
    lines.add("Files:");
    for (const OrderedFile& file : files)
        lines.add(file.name + ": " + what_it_is(file) + (file.remark.empty() ? "" : "; " + file.remark),
                  "  ");
    lines.gap();
    lines.add(
        "Ask before cutting where anything above and a file disagree. A check is no approval: local law, "
        "class rules "
        "and a licensed engineer decide where people can be hurt.");
    return lines.take();
}

}  // namespace fitup::sheets
