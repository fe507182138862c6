#include <cmath>
#include <numbers>

#include "base/csv.hpp"
#include "base/text.hpp"
#include "sheets/edge_lines.hpp"
#include "sheets/hole_list.hpp"
#include "sheets/size_text.hpp"

namespace fitup::sheets {

namespace {

constexpr const char* header =
    "side,tool,operation,kind,id,x_mm,y_mm,x_in,y_in,radius_mm,angle_deg,diameter_mm,diameter_in,through,"
    "depth_mm,depth_in,depth_with_point_mm,depth_with_point_in,from_last_mm,from_last_in,note";

/// 0 up to, but not, 360 degrees, also after rounding.
std::string angle_text(double x_mm, double y_mm) {
    const double degrees = std::atan2(y_mm, x_mm) * 180.0 / std::numbers::pi;
    const std::string text = fixed_text(degrees < 0.0 ? degrees + 360.0 : degrees, 3);
    return text == "360.000" ? "0.000" : text;
}

std::vector<std::string> cells(const HoleLine& line) {
    const double radius_mm = std::hypot(line.x_mm, line.y_mm);
    return {line.edge.empty() ? plan::to_text(line.side) : line.edge,
            line.tool,
            line.operation,
            line.kind,
            line.id,
            readout_mm(line.x_mm),
            readout_mm(line.y_mm),
            readout_in(line.x_mm),
            readout_in(line.y_mm),
            readout_mm(radius_mm),
            angle_text(line.x_mm, line.y_mm),
            fixed_text(line.diameter_mm, 3),
            readout_in(line.diameter_mm),
            line.through ? "yes" : "no",
            readout_mm(line.depth_mm),
            readout_in(line.depth_mm),
            readout_mm(line.depth_with_point_mm),
            readout_in(line.depth_with_point_mm),
            readout_mm(line.from_last_mm),
            readout_in(line.from_last_mm),
            line.note};
}

}  // namespace

std::string hole_list_csv(const plan::Plan& plan) {
    std::string csv = std::string(header) + "\r\n";
    std::vector<HoleLine> lines = hole_lines(plan);
    for (HoleLine& line : edge_lines(plan)) lines.push_back(std::move(line));
    for (const HoleLine& line : lines) csv += csv_row(cells(line));
    return csv;
}

}  // namespace fitup::sheets
