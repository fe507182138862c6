#include "sheets/title_facts.hpp"

#include "base/text.hpp"
#include "base/units.hpp"
#include "sheets/signs.hpp"

namespace fitup::sheets {

namespace {

constexpr double pounds_per_kg = 2.2046226218487757;  // exact: 1 / 0.45359237

std::string over_all(const plan::Box& box, const SheetSizes& sizes) {
    std::string text;
    for (std::size_t axis = 0; axis < 3; ++axis)
        text += (axis > 0 ? std::string(" ") + sign::times + " " : "") +
                sizes.text(box.most[axis] - box.least[axis]);
    return text;
}

std::string units_words(const plan::DrawingSheet& sheet, plan::Units units) {
    if (units == plan::Units::in) return sheet.both_units ? "inches [millimetres]" : "inches";
    return sheet.both_units ? "millimetres [inches]" : "millimetres";
}

}  // namespace

TitleBlock title_block(const plan::Plan& plan, const plan::DrawingSheet& sheet, const DrawingFacts& facts) {
    const SheetSizes sizes(plan.units, false);
    TitleBlock block;
    block.name = plan.name;
    block.revision = plan.revision.empty() ? "-" : plan.revision;
    block.quantity = std::to_string(plan.quantity);
    block.material = plan.material.name;
    block.mass =
        short_text(facts.mass_kg, 3) + " kg (" + short_text(facts.mass_kg * pounds_per_kg, 2) + " lb)";
    block.over_all = over_all(facts.box, sizes);
    block.units = units_words(sheet, plan.units);
    block.date = facts.date;
    block.tolerance = "ISO 2768-1 medium; it never covers a hole pattern";
    block.edges = plan.body.edge_break_mm ? "broken " + sizes.text(*plan.body.edge_break_mm) : "deburred";
    block.finish =
        plan.units == plan::Units::in ? "cut faces Ra 125 microinch" : "cut faces Ra 3.2 micrometres";
    block.caution =
        "Drive trains, winches and controls catch and maim. This drawing is no approval: local codes and "
        "class "
        "rules and a licensed engineer decide where people can be hurt. Ask before cutting where it and the "
        "STEP file disagree.";
    block.projection = sheet.projection;
    return block;
}

DrawnTable notes_table(const plan::Plan& plan, const std::vector<std::string>& own, double wide_mm,
                       double text_mm) {
    std::vector<std::string> notes = own;
    if (!plan.note.empty()) notes.push_back(plan.note);
    DrawnTable table;
    table.title = "NOTES";
    table.columns = {{"", Anchor::right}, {""}};
    int number = 0;
    for (const std::string& note : notes)
        table.rows.push_back({{{std::to_string(++number)}}, {broken_lines(note, wide_mm, text_mm)}});
    return table;
}

}  // namespace fitup::sheets
