#include "sheets/report_table.hpp"

#include "base/both_units.hpp"
#include "base/text.hpp"
#include "base/units.hpp"
#include "plan/rod_path.hpp"
#include "sheets/html.hpp"
#include "sheets/report_marks.hpp"
#include "sheets/size_text.hpp"

namespace fitup::sheets {

namespace {

using plan::Side;

/// Decimals of a readout: 0.01 mm, 0.0001 in; of a size one more.
constexpr int place_decimals = 2, size_decimals = 3, inch_decimals = 4;

class TableRows {
  public:
    explicit TableRows(const plan::Plan& plan) : plan_(plan) {}

    void heading(const std::string& words, int columns) {
        html_ += element(
            "tr",
            text_element("th", words,
                         attribute("colspan", std::to_string(columns)) + attribute("scope", "colgroup")),
            attribute("class", "group"));
    }

    void columns(std::initializer_list<const char*> names) {
        std::string cells;
        for (const char* name : names) cells += text_element("th", name, attribute("scope", "col"));
        html_ = element("thead", element("tr", cells)) + "<tbody>";
    }

    void row(const std::string& id, const std::string& name, const std::string& mark_attribute,
             const std::string& cells) {
        const std::string link = text_element("a", name, attribute("href", "#hole=" + id));
        html_ += element("tr", element("th", link, attribute("scope", "row")) + cells,
                         attribute("id", "hole=" + id) + attribute("data-id", id) + mark_attribute) +
                 "\n";
    }

    /// Both units, the file's own first.
    std::string length(double length_mm, int mm_decimals = place_decimals) const {
        const std::string mm = fixed_text(length_mm, mm_decimals);
        const std::string inch = fixed_text(length_mm / mm_per_inch, inch_decimals);
        const bool is_inch = plan_.units == plan::Units::in;
        return text((is_inch ? inch : mm), (is_inch ? mm : inch));
    }

    static std::string text(const std::string& words, const std::string& below = "") {
        return element("td", html_text(words) + (below.empty() ? "" : text_element("small", below)),
                       attribute("class", "n"));
    }

    std::string table(const std::string& kind) const {
        return element("table", html_ + "</tbody>", attribute("class", "marks " + kind));
    }

  private:
    const plan::Plan& plan_;
    std::string html_;
};

std::string side_words(const plan::Plan& plan, Side side) {
    const std::string& name = plan.side_names[side == Side::A ? 0 : 1];
    return std::string("Side ") + plan::to_text(side) + " up" + (name.empty() ? "" : " (" + name + ")") +
           (side == Side::B ? ", as drawn" : ", turned over about the Y axis: X has changed its sign");
}

/// A tapped hole's depth is its thread's, through or not as the thread is.
std::string depth_cell(const plan::Plan& plan, const TableRows& rows, const plan::Hole& hole) {
    const bool is_short = hole.thread && hole.thread->depth_mm < plan.body.thickness_mm;
    if (hole.through && !is_short) return TableRows::text("through");
    return rows.length(hole.thread ? hole.thread->depth_mm : hole.depth_mm);
}

double size_mm(const plan::Hole& hole) { return hole.thread ? hole.thread->major_mm : hole.diameter_mm; }

void add_hole(const plan::Plan& plan, const plan::Hole& hole, TableRows& rows) {
    const double x_mm = hole.from == Side::A ? -hole.at_mm.x_mm : hole.at_mm.x_mm;
    rows.row(hole.id, hole.id, attribute("data-hole", mark_text(mark_of(plan, hole))),
             rows.length(x_mm) + rows.length(hole.at_mm.y_mm) + rows.length(size_mm(hole), size_decimals) +
                 depth_cell(plan, rows, hole) +
                 text_element("td", hole_text(plan, hole), attribute("class", "words")));
}

void add_cross_hole(const plan::Plan& plan, const plan::CrossHole& hole, TableRows& rows) {
    const std::string edge = hole.direction[1] < 0.0 ? "+Y" : "-Y";
    const std::string words =
        (hole.thread ? hole.thread->designation
                     : plan::to_text(hole.kind) + (" " + both_units(hole.diameter_mm))) +
        ", drilled into edge " + edge + ", " + both_units(hole.depth_mm) + " deep";
    rows.row(hole.id, hole.id, attribute("data-hole", mark_text(mark_of(plan, hole))),
             rows.length(hole.at_mm[0]) + rows.length(hole.at_mm[2]) +
                 rows.length(hole.thread ? hole.thread->major_mm : hole.diameter_mm, size_decimals) +
                 rows.length(hole.depth_mm) + text_element("td", words, attribute("class", "words")));
}

std::string hole_table(const plan::Plan& plan) {
    constexpr int columns = 6;
    TableRows rows(plan);
    rows.columns({"hole", "X", "Y", "size", "depth", "what is made"});
    for (const Side side : {Side::B, Side::A}) {
        bool is_first = true;
        for (const plan::Hole& hole : plan.holes) {
            if (hole.from != side) continue;
            if (is_first) rows.heading(side_words(plan, side), columns);
            is_first = false;
            add_hole(plan, hole, rows);
        }
    }
    if (!plan.cross_holes.empty())
        rows.heading("Into an edge: X along the part, Y the height above its underside at the bore", columns);
    for (const plan::CrossHole& hole : plan.cross_holes) add_cross_hole(plan, hole, rows);
    return rows.table("holes");
}

std::string end_words(const plan::RodEnd& end) {
    if (!end.thread) return "plain, " + both_units(end.diameter_mm);
    return end.thread->designation + (end.thread->hand == plan::Hand::left ? " left-hand" : " right-hand") +
           ", " + both_units(end.length_mm) + " full form";
}

void add_bend(const plan::RodPath& path, std::size_t index, const std::string& mark, TableRows& rows) {
    const plan::RodBend& bend = path.bends[index];
    const std::string number = std::to_string(index + 1);
    rows.row("bend-" + number, "bend " + number, mark,
             rows.length(bend.mark_mm) + rows.length(bend.middle_mm) +
                 TableRows::text(fixed_text(bend.angle.degrees(), 2) + "°") +
                 TableRows::text(fixed_text(bend.turn.degrees(), 2) + "°") + rows.length(bend.radius_mm) +
                 rows.length(path.straights[index].length_mm) + text_element("td", ""));
}

std::string rod_table(const plan::Plan& plan) {
    const plan::RodPath path = plan::rod_path(*plan.rod);
    const std::vector<StretchMark> marks = rod_marks(plan);
    const auto attribute_of = [&](std::size_t i) { return attribute("data-stretch", mark_text(marks[i])); };
    const std::string blank = text_element("td", "");
    const auto words = [&](std::size_t end) {
        return text_element("td", end_words(plan.rod->ends[end]), attribute("class", "words"));
    };
    TableRows rows(plan);
    rows.columns({"place", "mark", "middle", "angle", "turn", "radius", "straight before", "what is made"});
    rows.row("end-1", "end 1", attribute_of(0),
             rows.length(0.0) + blank + blank + blank + blank + blank + words(0));
    for (std::size_t i = 0; i < path.bends.size(); ++i) add_bend(path, i, attribute_of(i + 1), rows);
    rows.row("end-2", "end 2", attribute_of(marks.size() - 1),
             rows.length(path.length_mm) + blank + blank + blank + blank +
                 rows.length(path.straights.back().length_mm) + words(1));
    return rows.table("bends");
}

}  // namespace

std::string report_table(const plan::Plan& plan) { return plan.rod ? rod_table(plan) : hole_table(plan); }

std::string report_table_note(const plan::Plan& plan) {
    const std::string units =
        plan.units == plan::Units::in ? "Inches over millimetres. " : "Millimetres over inches. ";
    if (plan.rod)
        return units +
               "Marks are on the straight stock, from its first end: a bend's arc starts at its mark. Turn "
               "is "
               "how far the bend's plane lies turned from the bend before, over 0 clockwise seen from the "
               "first end.";
    return units +
           "X to the right, Y up, looking down at the side named; zero is the bore's centre. Depths from "
           "that "
           "side's face. Each operation with its tool is in the hole list.";
}

}  // namespace fitup::sheets
