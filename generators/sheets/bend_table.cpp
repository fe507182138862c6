#include "sheets/bend_table.hpp"

#include <algorithm>

#include "base/csv.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/units.hpp"
#include "plan/rod_path.hpp"
#include "sheets/size_text.hpp"

namespace fitup::sheets {

namespace {

constexpr const char* header =
    "bend,mark_mm,mark_in,middle_mm,middle_in,angle_deg,turn_deg,radius_mm,radius_in,straight_before_mm,"
    "straight_before_in";

std::string deg(Angle angle) { return fixed_text(angle.degrees(), 2); }

using Row = TableRow;

Row bend_row(const plan::RodPath& path, std::size_t index) {
    const plan::RodBend& bend = path.bends[index];
    const double before_mm = path.straights[index].length_mm;
    return {std::to_string(index + 1),
            readout_mm(bend.mark_mm),
            readout_in(bend.mark_mm),
            readout_mm(bend.middle_mm),
            readout_in(bend.middle_mm),
            deg(bend.angle),
            deg(bend.turn),
            readout_mm(bend.radius_mm),
            readout_in(bend.radius_mm),
            readout_mm(before_mm),
            readout_in(before_mm)};
}

Row end_row(const plan::RodPath& path) {
    const double before_mm = path.straights.back().length_mm;
    return {"end", readout_mm(path.length_mm), readout_in(path.length_mm), "", "", "", "", "",
            "",    readout_mm(before_mm),      readout_in(before_mm)};
}

}  // namespace

std::string bend_table_csv(const plan::Plan& plan) {
    const plan::RodPath path = plan::rod_path(*plan.rod);
    std::string csv = std::string(header) + "\r\n";
    for (std::size_t i = 0; i < path.bends.size(); ++i) csv += csv_row(bend_row(path, i));
    return csv + csv_row(end_row(path));
}

std::string bend_table_text(const plan::Plan& plan) {
    const plan::RodPath path = plan::rod_path(*plan.rod);
    std::string text = "Cut " + readout_mm(path.length_mm) + " mm (" + readout_in(path.length_mm) +
                       " in) of " + short_text(plan.rod->diameter_mm, 3) + " mm (" +
                       readout_in(plan.rod->diameter_mm) + " in) stock.\n";
    if (path.bends.empty()) return text + "Straight: no bends.\n";
    std::vector<Row> rows{{"bend", "mark mm", "mark in", "middle mm", "middle in", "angle", "turn",
                           "radius mm", "radius in", "before mm", "before in"}};
    for (std::size_t i = 0; i < path.bends.size(); ++i) rows.push_back(bend_row(path, i));
    rows.push_back(end_row(path));
    return text + aligned(rows, Columns::right) +
           "Mark the straight stock from its first end: a bend's arc starts at \"mark\"; \"before\" is the "
           "straight up to it.\n\"turn\" is how far the bend's plane lies turned about the rod from the bend "
           "before: over 0 clockwise, seen\nfrom the first end. In a bender that stands still the rod itself "
           "is "
           "turned the other way.\nBars spring back: try the overbend on a scrap first.\n";
}

}  // namespace fitup::sheets
