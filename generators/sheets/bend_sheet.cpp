#include "sheets/bend_sheet.hpp"

#include <algorithm>
#include <cmath>

#include "base/both_units.hpp"
#include "base/text.hpp"
#include "plan/rod_path.hpp"
#include "plan/springback.hpp"
#include "sheets/sheet_table.hpp"
#include "sheets/size_text.hpp"

namespace fitup::sheets {

namespace {

constexpr Pen thin{0.18}, hidden{0.18, Dash::dashed}, axis{0.18, Dash::chain, 0.3};

/// A length in the file's unit and, smaller, in the other.
class Readouts {
  public:
    explicit Readouts(plan::Units units) : is_inch_(units == plan::Units::in) {}

    std::string read(double length_mm) const {
        return is_inch_ ? readout_in(length_mm) : readout_mm(length_mm);
    }
    std::string beside(double length_mm) const {
        return is_inch_ ? readout_mm(length_mm) : readout_in(length_mm);
    }
    /// Two columns, the numbers ending at these places.
    void add_columns(std::vector<SheetColumn>& columns, const std::string& name, double read_mm,
                     double beside_mm) const {
        columns.push_back({name, is_inch_ ? "in" : "mm", read_mm, Anchor::right, read_text_mm});
        columns.push_back({"", is_inch_ ? "mm" : "in", beside_mm});
    }

  private:
    bool is_inch_;
};

std::string degrees(Angle angle) { return fixed_text(angle.degrees(), 2); }

// Rods
// --------------------------------------------------------------------------------------------------------

/// The stock lengthways to scale, its thickness as it shows best: ends, marks, middles and ends of bends.
class StockPicture {
  public:
    StockPicture(SheetPages& pages, const plan::Rod& rod, const plan::RodPath& path)
        : pages_(pages), rod_(rod), path_(path), middle_mm_(pages.y_mm() + 14.0) {}

    void draw() {
        const double length = path_.length_mm;
        pages_.rectangle({x(0.0), middle_mm_ - half_mm}, x(length) - x(0.0), 2.0 * half_mm, Pen{wide_mm});
        pages_.line({x(0.0) - 3.0, middle_mm_}, {x(length) + 3.0, middle_mm_}, axis);
        add_end(0, 0.0, 1.0);
        add_end(1, length, -1.0);
        for (std::size_t i = 0; i < path_.bends.size(); ++i) add_bend(i);
        pages_.text({x(0.0), middle_mm_ - half_mm - 2.5}, "first end", side_text_mm);
        pages_.text({x(length), middle_mm_ - half_mm - 2.5}, "last end", side_text_mm, Anchor::right);
        pages_.advance(32.0);
    }

  private:
    static constexpr double half_mm = 3.0, inset_mm = 6.0;

    double x(double along_mm) const {
        const double width = SheetPages::width_mm - 2.0 * inset_mm;
        return SheetPages::left_mm + inset_mm + width * along_mm / path_.length_mm;
    }

    /// The thread's root as a thin line after ISO 6410, and where it ends.
    void add_end(std::size_t end, double at, double inward) {
        const plan::RodEnd& made = rod_.ends[end];
        if (made.length_mm <= 0.0) return;
        const double to = at + inward * made.length_mm;
        pages_.line({x(to), middle_mm_ - half_mm}, {x(to), middle_mm_ + half_mm}, {narrow_mm});
        if (!made.thread) return;
        for (const double side : {-1.0, 1.0})
            pages_.line({x(at), middle_mm_ + side * 0.75 * half_mm},
                        {x(to), middle_mm_ + side * 0.75 * half_mm}, thin);
    }

    /// Start and end of the arc in solid lines, the mark named; its middle dashed.
    void add_bend(std::size_t index) {
        const plan::RodBend& bend = path_.bends[index];
        const double over = middle_mm_ - half_mm - 5.0, under = middle_mm_ + half_mm + 5.0;
        const double from = x(bend.mark_mm), to = x(bend.mark_mm + bend.length_mm());
        pages_.line({from, over}, {from, under}, {narrow_mm});
        pages_.line({to, middle_mm_ - half_mm - 2.0}, {to, middle_mm_ + half_mm + 2.0}, thin);
        pages_.line({x(bend.middle_mm), over}, {x(bend.middle_mm), middle_mm_ + half_mm + 2.0}, hidden);
        pages_.text({from, under + 3.5}, std::to_string(index + 1), read_text_mm, Anchor::middle);
    }

    SheetPages& pages_;
    const plan::Rod& rod_;
    const plan::RodPath& path_;
    double middle_mm_;
};

std::string end_words(const plan::RodEnd& end) {
    if (!end.thread)
        return end.length_mm > 0.0 ? "turn down to " + both_units(end.diameter_mm) + ", " +
                                         both_units(end.length_mm) + " long"
                                   : "plain";
    return "thread " + end.thread->designation +
           (end.thread->hand == plan::Hand::left ? " left-hand, " : ", ") + both_units(end.length_mm) +
           " of full form";
}

void add_preparations(SheetPages& pages, const plan::Rod& rod, const plan::RodPath& path) {
    SheetTable table(pages, {{"before bending", "", SheetTable::first_mm, Anchor::left, read_text_mm}});
    table.add({"cut " + readout_text(path.length_mm) + " of " + both_units(rod.diameter_mm) +
               " stock, ends square"});
    constexpr std::array names{"first end: ", "last end: "};
    for (std::size_t end = 0; end < 2; ++end) {
        const double chamfer_mm = rod.ends[end].chamfer_mm;
        table.add({names[end] + end_words(rod.ends[end]) +
                   (chamfer_mm > 0.0 ? ", chamfer " + both_units(chamfer_mm) : "")});
    }
}

void add_rod_bends(SheetPages& pages, const plan::Plan& plan, const plan::RodPath& path) {
    const Readouts readouts(plan.units);
    std::vector<SheetColumn> columns{{"bend", "", SheetTable::first_mm, Anchor::left, read_text_mm}};
    readouts.add_columns(columns, "mark", 45.0, 62.0);
    readouts.add_columns(columns, "middle", 80.0, 97.0);
    columns.push_back({"angle", "deg", 112.0, Anchor::right, read_text_mm});
    columns.push_back({"turn", "deg", 129.0, Anchor::right, read_text_mm});
    readouts.add_columns(columns, "radius", 145.0, 158.0);
    readouts.add_columns(columns, "straight before", 174.0, 188.0);
    SheetTable table(pages, columns);
    for (std::size_t i = 0; i < path.bends.size(); ++i) {
        const plan::RodBend& bend = path.bends[i];
        const double before_mm = path.straights[i].length_mm;
        table.add({std::to_string(i + 1), readouts.read(bend.mark_mm), readouts.beside(bend.mark_mm),
                   readouts.read(bend.middle_mm), readouts.beside(bend.middle_mm), degrees(bend.angle),
                   degrees(bend.turn), readouts.read(bend.radius_mm), readouts.beside(bend.radius_mm),
                   readouts.read(before_mm), readouts.beside(before_mm)});
    }
    const double last_mm = path.straights.back().length_mm;
    table.add({"end", readouts.read(path.length_mm), readouts.beside(path.length_mm), "", "", "", "", "", "",
               readouts.read(last_mm), readouts.beside(last_mm)});
}

constexpr const char* how_to_bend =
    "Mark the straight stock from its first end: a bend's arc starts at \"mark\" and its middle is dashed in "
    "the "
    "picture; the radius is to the rod's centreline. \"turn\" is how far the bend's plane lies turned about "
    "the rod "
    "from the bend before: over 0 clockwise, seen from the first end. In a bender that stands still the rod "
    "itself is "
    "turned the other way. Bars spring back: try the overbend on a scrap first.";

// Strips
// ------------------------------------------------------------------------------------------------------

std::string springback_words(const plan::Plan& plan, const plan::JoggleShape& shape) {
    const auto back = plan::springback(plan.material, plan.body.joggle->inside_radius_mm,
                                       plan.body.thickness_mm, shape.bend);
    if (!back) return "";
    return " Each bend springs back by " + short_text(back->least.degrees(), 1) + " to " +
           short_text(back->most.degrees(), 1) + " degrees: set it over by what a test strip shows.";
}

/// Holes whose X is another one once the strip is bent.
std::string bent_holes_words(const plan::Plan& plan, const plan::FlatBlank& blank) {
    std::string text;
    for (const plan::Hole& flat : blank.plan.holes) {
        const auto bent = std::find_if(plan.holes.begin(), plan.holes.end(),
                                       [&](const plan::Hole& hole) { return hole.id == flat.id; });
        if (bent != plan.holes.end() && std::abs(bent->at_mm.x_mm - flat.at_mm.x_mm) > 1e-9)
            text += " After bending \"" + flat.id + "\" lies at X " + readout_text(bent->at_mm.x_mm) +
                    "; drilled then, it is nearer to its place.";
    }
    return text;
}

}  // namespace

std::string part_words(const plan::Plan& plan) {
    return plan.name + (plan.revision.empty() ? "" : ", revision " + plan.revision) +
           (plan.quantity == 1 ? "" : ", " + std::to_string(plan.quantity) + " off");
}

HoleSheet rod_sheet(const plan::Plan& plan, const plan::PaperSize& size,
                    std::span<const FastenerRow> fasteners) {
    const plan::RodPath path = plan::rod_path(*plan.rod);
    SheetPages pages({part_words(plan),
                      "straight stock",
                      {plan.material.name + ", round " + both_units(plan.rod->diameter_mm) + ", " +
                       readout_text(path.length_mm) +
                       " long. All lengths are from the first end, on the straight stock."}},
                     size);
    StockPicture(pages, *plan.rod, path).draw();
    add_preparations(pages, *plan.rod, path);
    if (!path.bends.empty()) {
        add_title(pages, "Bends", 24.0);
        add_rod_bends(pages, plan, path);
        pages.advance(2.0);
        add_words(pages, how_to_bend);
    }
    add_fasteners(pages, fasteners, plan.units);
    return {"-sheet", pages.finish()};
}

void add_strip_bends(SheetPages& pages, const plan::Plan& plan, const plan::FlatBlank& blank) {
    if (blank.bends_mm.empty()) return;
    const auto shape = plan::joggle_shape(*plan.body.joggle, plan.body.thickness_mm);
    if (!shape) return;
    const Readouts readouts(plan.units);
    add_title(pages, "Marks across the strip, and bends", 40.0);
    std::vector<SheetColumn> columns{{"mark", "", SheetTable::first_mm, Anchor::left, read_text_mm}};
    readouts.add_columns(columns, "X", 68.0, 84.0);
    readouts.add_columns(columns, "from the left end", 110.0, 126.0);
    columns.push_back({"bend", "", 131.0, Anchor::left, side_text_mm});
    SheetTable table(pages, columns);
    const double left_mm = blank.plan.body.outline.box().least.x_mm;
    const bool is_up = plan.body.joggle->rise_mm > 0.0;
    for (std::size_t i = 0; i < blank.bends_mm.size(); ++i) {
        const std::string bend = "bend " + std::to_string(i + 1);
        const std::string way = (i == 0) == is_up ? "up " : "down ";
        for (const bool is_start : {true, false}) {
            const double x_mm = blank.bends_mm[i][is_start ? 0 : 1];
            table.add({bend + (is_start ? " starts" : " ends"), readouts.read(x_mm), readouts.beside(x_mm),
                       readouts.read(x_mm - left_mm), readouts.beside(x_mm - left_mm),
                       is_start ? way + degrees(shape->bend) + " degrees" : ""});
        }
    }
    pages.advance(2.0);
    add_words(pages, std::string("Inside radius ") + both_units(plan.body.joggle->inside_radius_mm) +
                         ". Bend " + (is_up ? "up" : "down") +
                         " at the first marks, turn the strip over, bend back at the second." +
                         springback_words(plan, *shape) + bent_holes_words(plan, blank));
}

}  // namespace fitup::sheets
