#include "sheets/edge_lines.hpp"

#include <cmath>

#include "base/text.hpp"
#include "trade/trade.hpp"

namespace fitup::sheets {

namespace {

HoleLine line_of(const plan::CrossHole& hole) {
    HoleLine line;
    line.edge = hole.direction[1] < 0.0 ? "+Y" : "-Y";
    line.id = hole.id;
    line.kind = plan::to_text(hole.kind);
    line.x_mm = hole.at_mm[0];
    line.y_mm = hole.at_mm[2];
    line.through = true;
    line.depth_mm = line.depth_with_point_mm = hole.depth_mm;
    return line;
}

HoleLine drilled(const plan::CrossHole& hole) {
    HoleLine line = line_of(hole);
    const trade::Drill* drill = trade::drill_of(hole.diameter_mm);
    line.operation = hole.thread ? "tap drill" : "drill";
    line.tool = "drill " + (drill != nullptr ? drill->name : short_text(hole.diameter_mm, 3) + " mm");
    line.diameter_mm = hole.diameter_mm;
    line.note = hole.thread ? "drill this size through both lugs first, before the slit is sawn"
                            : "the lug on this side only";
    return line;
}

HoleLine tapped(const plan::CrossHole& hole) {
    HoleLine line = line_of(hole);
    line.operation = "tap";
    line.tool = hole.thread->designation + " tap";
    line.diameter_mm = hole.thread->major_mm;
    return line;
}

}  // namespace

std::vector<HoleLine> edge_lines(const plan::Plan& plan) {
    std::vector<HoleLine> lines;
    for (const plan::CrossHole& hole : plan.cross_holes) {
        if (hole.thread) lines.insert(lines.begin(), drilled(hole));
        if (!hole.thread) lines.push_back(drilled(hole));
    }
    for (const plan::CrossHole& hole : plan.cross_holes) {
        if (hole.thread) lines.push_back(tapped(hole));
    }
    plan::Point last;
    for (HoleLine& line : lines) {
        line.from_last_mm = std::hypot(line.x_mm - last.x_mm, line.y_mm - last.y_mm);
        last = {line.x_mm, line.y_mm};
    }
    return lines;
}

}  // namespace fitup::sheets
