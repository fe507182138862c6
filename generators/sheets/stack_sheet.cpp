#include "sheets/stack_sheet.hpp"

#include "base/both_units.hpp"
#include "base/length_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"

namespace fitup::sheets {

namespace {

using namespace calculations;

/// Small shares as so many in a million.
std::string share_text(double share) {
    if (share == 0.0) return "none";
    if (share >= 0.001) return short_text(100.0 * share, 2) + " %";
    if (share >= 1e-9) return short_text(1e6 * share, 3) + " in a million";
    return "under 1 in 1000 million";
}

const StackShare& share_of(const ClosingResult& result, std::size_t link) {
    for (const StackShare& share : result.shares) {
        if (share.link == link) return share;
    }
    return result.shares.front();
}

class StackSheet {
  public:
    explicit StackSheet(const StackResult& result)
        : result_(result), length_(result.stack.units == plan::Units::in) {}

    std::string text() const {
        std::string text =
            solution_text() + closings_text() + "  what makes each extreme, " + length_.unit() + "\n";
        for (std::size_t i = 0; i < result_.closings.size(); ++i)
            text += extremes_text(result_.stack.closings[i], result_.closings[i]);
        return text;
    }

  private:
    std::string range(const Interval& interval) const {
        return length_.number(interval.least_mm) + " to " + length_.number(interval.most_mm);
    }

    std::string tolerance_text(const StackLink& link) const {
        if (!link.has_tolerance) return "none stated";
        if (link.plus_mm == link.minus_mm) return "+-" + length_.number(link.plus_mm);
        return "+" + length_.number(link.plus_mm) + " -" + length_.number(link.minus_mm);
    }

    std::string demands_text() const {
        std::vector<TableRow> rows{{"closing", "asks for at least", "at most", "by root-sum-square"}};
        for (const ClosingDemand& demand : result_.solution->demands)
            rows.push_back({result_.stack.closings[demand.closing].name,
                            length_.number(demand.worst_case.least_mm),
                            length_.number(demand.worst_case.most_mm), range(demand.statistical)});
        return indented(aligned(rows));
    }

    std::string solution_text() const {
        if (!result_.solution) return "";
        const StackSolution& solution = *result_.solution;
        const StackLink& link = result_.stack.links[solution.link];
        std::string text = "  " + link.name + ": ";
        if (solution.serves)
            text += "make it " + both_units(solution.value_mm) + "; sizes on the drawing from " +
                    both_units(solution.serves->least_mm) + " to " + both_units(solution.serves->most_mm) +
                    " serve every closing at worst, the link's own tolerance (" + tolerance_text(link) +
                    ") taken off\n";
        else
            text += "no size serves; the tables below are at " + both_units(solution.value_mm) +
                    ", which misses by the same on both sides\n";
        return text + demands_text();
    }

    std::string closings_text() const {
        std::vector<TableRow> rows{{"closing", "wanted", "as drawn", "at worst", "room below / above",
                                    "3 sigma", "outside the window"}};
        for (std::size_t i = 0; i < result_.closings.size(); ++i) {
            const Closing& closing = result_.stack.closings[i];
            const ClosingResult& one = result_.closings[i];
            rows.push_back(
                {closing.name, closing.between ? range(*closing.between) : "-",
                 length_.number(one.nominal_mm), range(one.worst_case),
                 one.room ? length_.number(one.room->least_mm) + " / " + length_.number(one.room->most_mm)
                          : "-",
                 range(one.statistical), one.out_of_window ? share_text(*one.out_of_window) : "-"});
        }
        return "  closings, " + std::string(length_.unit()) +
               " (3 sigma: root-sum-square, tolerances as three standard deviations, sizes "
               "normally "
               "distributed)\n" +
               indented(aligned(rows));
    }

    /// The sizes that make one closing least and most.
    std::string extremes_text(const Closing& closing, const ClosingResult& result) const {
        std::vector<TableRow> rows{{closing.name, "way", "as drawn", "tolerance", "when least", "when most",
                                    "of the worst case", "of the variance"}};
        for (const StackTerm& term : closing.through) {
            const StackLink& link = result_.stack.links[term.link];
            const StackShare& share = share_of(result, term.link);
            rows.push_back({link.name, term.sign > 0.0 ? "+" : "-", length_.number(link.size_mm),
                            tolerance_text(link), length_.number(extreme_size_mm(link, term.sign, true)),
                            length_.number(extreme_size_mm(link, term.sign, false)),
                            short_text(100.0 * share.of_worst_case, 1) + " %",
                            short_text(100.0 * share.of_variance, 1) + " %"});
        }
        rows.push_back({"adds up to", "", length_.number(result.nominal_mm), "",
                        length_.number(result.worst_case.least_mm),
                        length_.number(result.worst_case.most_mm)});
        return indented(aligned(rows));
    }

    const StackResult& result_;
    LengthText length_;
};

}  // namespace

std::string stack_text(const StackResult& result) { return StackSheet(result).text(); }

}  // namespace fitup::sheets
