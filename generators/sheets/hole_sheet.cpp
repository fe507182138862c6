#include "sheets/hole_sheet.hpp"

#include <algorithm>
#include <set>

#include "plan/joggle.hpp"
#include "sheets/bend_sheet.hpp"
#include "sheets/edge_sheet.hpp"
#include "sheets/fastener_list.hpp"
#include "sheets/hole_rows.hpp"
#include "sheets/size_text.hpp"

namespace fitup::sheets {

namespace {

using plan::Side;

/// A side with more holes than this has its picture across the whole sheet.
constexpr std::size_t most_beside = 36;
constexpr double picture_mm = 92.0, wide_picture_mm = 150.0, list_mm = 97.0;
constexpr double step_row_mm = 5.2, line_mm = 4.2;
/// Of the list: right end of the step's number, left of operation and tool, right end of the count.
constexpr double step_mm = 5.0, operation_mm = 8.0, tool_mm = 41.0, count_mm = 7.0;

constexpr const char* how_to_read =
    "\"to tip\" is the depth with the drill's point; \"from last\" "
    "the "
    "distance from the hole before, of the first one from zero: a check for the eye.";

/// A step of the order of work.
struct Step {
    std::string operation;
    std::string tool;
    std::string count;
};

std::string lies_words(const plan::Plan& plan, Side side) {
    const std::string& name = plan.side_names[side == Side::A ? 0 : 1];
    std::string text = std::string("Side ") + plan::to_text(side) + " up";
    if (!name.empty()) text += " (what bolts to the " + name + ")";
    text += side == Side::B ? ", as drawn"
                            : ", turned over about the Y axis: X reads the other way round from side B";
    return text + ". Looking down at it, X goes to the right and Y up.";
}

std::string zero_words(const plan::Plan& plan) {
    for (const plan::Hole& hole : plan.holes) {
        if (hole.at_mm == plan::Point{})
            return "Zero is the centre of " + (hole.id == "bore" ? "the bore" : "hole \"" + hole.id + "\"");
    }
    return "Zero lies a and b from the edges";
}

std::string facts_words(const plan::Plan& plan, Side side) {
    return plan.material.name + ", " + readout_text(plan.body.thickness_mm) + " thick. " + zero_words(plan) +
           ". Depths count from face " + plan::to_text(side) + "; large figures are in " +
           (plan.units == plan::Units::in ? "inches, small ones in millimetres."
                                          : "mm, small ones in inches.");
}

constexpr std::string_view slot_mill = "end mill for slot ";

/// "counterbore 26 mm" for the operation "counterbore" is "26 mm".
Step step_of(Round round) {
    const std::string operation = operations_text(round);
    std::string tool = round.front().tool;
    if (tool.starts_with(operation + " ")) tool = tool.substr(operation.size() + 1);
    if (tool.starts_with(slot_mill)) tool = "end mill " + tool.substr(slot_mill.size());
    return {operation, tool, std::to_string(round.size())};
}

class SideSheet {
  public:
    SideSheet(SheetPages& pages, const plan::Plan& plan, Side side, std::span<const HoleLine> lines,
              std::span<const std::array<double, 2>> bends_mm = {})
        : pages_(pages),
          plan_(plan),
          side_(side),
          rounds_(rounds_of(lines)),
          shapes_(milled_shapes(plan, side)),
          bends_mm_(bends_mm) {
        for (const HoleLine& line : lines) here_.insert(line.id);
        for (std::size_t i = 0; i < plan.holes.size(); ++i) {
            if (here_.contains(plan.holes[i].id)) numbers_[plan.holes[i].id] = i + 1;
        }
    }

    /// @returns the last step's number
    int draw() {
        add_front();
        HoleRows rows(pages_, plan_.units, numbers_);
        int step = spotted() > 0 ? 1 : 0;
        for (const Round& round : rounds_) rows.add_round(++step, round);
        if (!shapes_.empty()) rows.add_milled(++step, shapes_);
        return step;
    }

  private:
    std::size_t spotted() const {
        std::size_t count = 0;
        for (const Round& round : rounds_) count += is_spotted(round.front()) ? round.size() : 0;
        return count;
    }

    std::vector<Step> steps() const {
        std::vector<Step> steps;
        if (spotted() > 0) steps.push_back({"spot", "spot drill", std::to_string(spotted())});
        for (const Round& round : rounds_) steps.push_back(step_of(round));
        if (!shapes_.empty())
            steps.push_back(
                {"mill", std::to_string(shapes_.size()) + (shapes_.size() == 1 ? " shape" : " shapes"), ""});
        return steps;
    }

    /// The picture, what its arrows measure, and beside or below it the order of work.
    void add_front() {
        const bool is_beside = here_.size() <= most_beside;
        const double top = pages_.y_mm();
        const double width = is_beside ? picture_mm : SheetPages::width_mm,
                     height = diagram_height_mm(plan_, width, is_beside ? picture_mm : wide_picture_mm);
        const std::size_t left_out = draw_side_diagram(
            pages_.page(), plan_, side_, numbers_,
            {SheetPages::left_mm, top, SheetPages::left_mm + width, top + height}, bends_mm_);
        double y = top + height + 3.0;
        std::vector<std::string> words = edge_distances(plan_, side_);
        if (left_out > 0)
            words.push_back(std::to_string(left_out) +
                            " numbers are left out for want of room: those holes go by X and Y.");
        for (const std::string& one : words) {
            pages_.text({SheetPages::left_mm, y}, one, side_text_mm);
            y += line_mm;
        }
        const double under = is_beside ? add_steps(top, list_mm) : add_steps(y, 0.0);
        pages_.advance(std::max(y, under) - top + 1.0);
    }

    /// @returns where the list ends
    double add_steps(double top, double from_mm) {
        const double left = SheetPages::left_mm + from_mm;
        double y = top + read_text_mm + 2.0;
        pages_.text({left, y}, "Order of work", read_text_mm);
        pages_.text({SheetPages::right_mm, y}, "holes", side_text_mm, Anchor::right);
        int number = 0;
        for (const Step& step : steps()) {
            y += step_row_mm;
            pages_.text({left + step_mm, y}, std::to_string(++number), side_text_mm, Anchor::right);
            pages_.text({left + operation_mm, y}, step.operation, side_text_mm);
            pages_.text({left + tool_mm, y},
                        fitted(step.tool, SheetPages::right_mm - left - tool_mm - count_mm, side_text_mm),
                        side_text_mm);
            pages_.text({SheetPages::right_mm, y}, step.count, side_text_mm, Anchor::right);
        }
        if (rounds_.empty()) return y + line_mm;
        y += 1.5;
        const std::string spotting = spotted() > 0 ? "Spot in the order of each drill's rows. " : "";
        for (const std::string& words :
             broken_lines(spotting + how_to_read, SheetPages::right_mm - left, side_text_mm))
            pages_.text({left, y += line_mm}, words, side_text_mm);
        return y + line_mm;
    }

    SheetPages& pages_;
    const plan::Plan& plan_;
    Side side_;
    std::vector<Round> rounds_;
    std::vector<MilledShape> shapes_;
    std::span<const std::array<double, 2>> bends_mm_;
    std::set<std::string> here_;  ///< ids of the holes that are worked on from this side
    HoleNumbers numbers_;
};

SheetHeading side_heading(const plan::Plan& plan, Side side) {
    return {part_words(plan),
            std::string("side ") + plan::to_text(side) + " up",
            {lies_words(plan, side), facts_words(plan, side)}};
}

/// Lines of one side; the list has side B first.
std::span<const HoleLine> lines_on(std::span<const HoleLine> lines, Side side) {
    const auto middle =
        std::find_if(lines.begin(), lines.end(), [](const HoleLine& line) { return line.side == Side::A; });
    const auto of_b = std::size_t(middle - lines.begin());
    return side == Side::B ? lines.first(of_b) : lines.subspan(of_b);
}

/// The strip before it is bent, its marks, and what is drilled into its edges once it is.
HoleSheet arm_sheet(const plan::Plan& plan, const plan::FlatBlank& blank, const plan::PaperSize& size,
                    std::span<const FastenerRow> fasteners) {
    const std::vector<HoleLine> lines = hole_lines(blank.plan);
    const plan::Box2 box = blank.plan.body.outline.box();
    const bool is_bent = !blank.bends_mm.empty();
    SheetHeading heading = side_heading(blank.plan, Side::B);
    heading.lies = is_bent ? "flat blank, side B up" : "side B up";
    heading.words.insert(heading.words.begin(),
                         std::string(is_bent ? "The flat strip before it is bent" : "The flat strip") + ", " +
                             readout_text(box.most.x_mm - box.least.x_mm) + " over all, " +
                             readout_text(box.most.y_mm - box.least.y_mm) + " wide.");
    SheetPages pages(std::move(heading), size);
    const int steps = SideSheet(pages, blank.plan, Side::B, lines_on(lines, Side::B), blank.bends_mm).draw();
    add_strip_bends(pages, plan, blank);
    // A boss and its slit lie about the pivot, where bending moves nothing.
    const std::vector<MilledShape> shapes = milled_shapes(plan, Side::B);
    const HoleNumbers none;
    pages.advance(2.0);
    HoleRows(pages, plan.units, none).add_milled(steps + 1, shapes);
    add_edge_pages(pages, plan);
    add_fasteners(pages, fasteners, plan.units);
    return {"-sheet", pages.finish()};
}

std::vector<HoleSheet> side_sheets(const plan::Plan& plan, const plan::PaperSize& size,
                                   std::span<const FastenerRow> fasteners) {
    const std::vector<HoleLine> lines = hole_lines(plan);
    std::vector<HoleSheet> sheets;
    for (const Side side : {Side::B, Side::A}) {
        const std::span<const HoleLine> own = lines_on(lines, side);
        if (own.empty() && milled_shapes(plan, side).empty()) continue;
        SheetPages pages(side_heading(plan, side), size);
        SideSheet(pages, plan, side, own).draw();
        if (sheets.empty()) {
            add_edge_pages(pages, plan);
            add_fasteners(pages, fasteners, plan.units);
        }
        sheets.push_back({std::string("-sheet-") + plan::to_text(side), pages.finish()});
    }
    return sheets;
}

}  // namespace

std::vector<HoleSheet> hole_sheets(const plan::Plan& plan, const plan::PaperSize& paper,
                                   std::span<const plan::PatternFastener> told) {
    const plan::PaperSize size = bench_size(paper);
    const std::vector<FastenerRow> fasteners = fastener_rows(plan, told);
    if (plan.rod) return {rod_sheet(plan, size, fasteners)};
    if (plan.arm) {
        if (const auto blank = plan::flat_blank(plan)) return {arm_sheet(plan, *blank, size, fasteners)};
    }
    return side_sheets(plan, size, fasteners);
}

}  // namespace fitup::sheets
