#include "parts/arm_outline.hpp"

#include <algorithm>
#include <cmath>

#include "plan/vector.hpp"

namespace fitup::parts {

namespace {

using plan::Edge;
using plan::Point;

// Lugs: common practice, no source.
constexpr double wall_round_bolt_d = 0.4;  ///< between bolt hole and bore, in diameters of the bolt
constexpr double least_wall_mm = 2.0;
constexpr double end_distance_d = 1.5;  ///< from the bolt's axis to the lugs' end
constexpr double room_round_seat_mm = 0.5;
constexpr double corner_radius_mm = 2.0;
constexpr double beyond_lugs_mm = 5.0;  ///< how far the slit's cutter runs out

/// Thread in the tapped lug, in diameters: what rule thread-engagement asks for, in steel a little more.
double engagement_d(const std::string& family) {
    if (family == "steel" || family == "stainless" || family == "brass" || family == "cast iron") return 1.5;
    return family == "plastic" ? 2.5 : 2.0;
}

/// Greatest of washer, bolt head across corners and cap screw head.
double seat_of_mm(const plan::Thread& bolt) {
    double seat_mm = 2.0 * bolt.major_mm;
    if (const auto* washer = trade::find_washer(bolt.designation))
        seat_mm = std::max(seat_mm, washer->outside_mm);
    if (const auto* head = trade::find_head(bolt.designation, "hex bolt"))
        seat_mm = std::max(seat_mm, head->across_corners_mm);
    if (const auto* head = trade::find_head(bolt.designation, "cap screw"))
        seat_mm = std::max(seat_mm, head->width_mm);
    return seat_mm;
}

Edge line(double x_mm, double y_mm) { return {{x_mm, y_mm}, std::nullopt}; }
Edge arc(Point from, Point centre) { return {from, plan::Arc{centre, plan::Turn::anticlockwise}}; }

/// x where the lugs' flat sides begin: where the circle is as wide as they are, or, of wider lugs, a shoulder
/// that leaves the bolt's seat flat.
double shoulder_x_mm(const plan::Clamp& clamp, double radius_mm) {
    const double seat_ends_mm = clamp.seat_mm / 2.0 + room_round_seat_mm - clamp.bolt_behind_mm;
    return std::max(seat_ends_mm, -radius_mm / 2.0);
}

/// The metal behind the pivot anticlockwise from `from`, a point on the circle at x >= 0, to its mirror image
/// below the X axis (which the last edge runs to).
std::vector<Edge> pivot_end(Point from, double radius_mm, const std::optional<plan::Clamp>& clamp) {
    if (!clamp) return {arc(from, {})};
    const double half_mm = clamp->lug_width_mm / 2.0;
    const double end_mm = -clamp->lug_end_mm;
    const double corner_mm = std::min({corner_radius_mm, half_mm / 2.0, clamp->lug_end_mm / 4.0});
    std::vector<Edge> edges;
    const auto go_round = [&](Point start, Point end) {
        if (plan::distance_mm(start, end) > plan::same_point_mm) edges.push_back(arc(start, {}));
    };
    const bool is_wider = half_mm > radius_mm + plan::same_point_mm;
    const double x_mm = is_wider ? shoulder_x_mm(*clamp, radius_mm) : 0.0;
    const double y_mm = is_wider ? std::sqrt(radius_mm * radius_mm - x_mm * x_mm) : radius_mm;
    const double side_mm = is_wider ? half_mm : radius_mm;
    go_round(from, {x_mm, y_mm});
    if (is_wider) edges.push_back(line(x_mm, y_mm));
    edges.push_back(line(x_mm, side_mm));
    edges.push_back(arc({end_mm + corner_mm, side_mm}, {end_mm + corner_mm, side_mm - corner_mm}));
    edges.push_back(line(end_mm, side_mm - corner_mm));
    edges.push_back(arc({end_mm, corner_mm - side_mm}, {end_mm + corner_mm, corner_mm - side_mm}));
    edges.push_back(line(end_mm + corner_mm, -side_mm));
    if (is_wider) edges.push_back(line(x_mm, -side_mm));
    go_round({x_mm, -y_mm}, {from.x_mm, -from.y_mm});
    return edges;
}

}  // namespace

double bolt_clearance_mm(const std::string& bolt) {
    const trade::ClearanceHole* hole = trade::find_clearance_hole(bolt, "normal");
    if (hole != nullptr) return hole->diameter_mm;
    const trade::Thread* thread = trade::find_thread(bolt);
    return thread != nullptr ? thread->major_mm : 0.0;
}

plan::Clamp sized_clamp(const plan::Thread& bolt, double slit_mm, double bore_mm, double pivot_outside_mm,
                        double height_mm, const std::string& family) {
    plan::Clamp clamp;
    clamp.bolt = bolt.designation;
    clamp.slit_mm = slit_mm;
    clamp.lug_height_mm = height_mm;
    clamp.seat_mm = seat_of_mm(bolt);
    clamp.lug_width_mm = std::max(pivot_outside_mm, slit_mm + 2.0 * engagement_d(family) * bolt.major_mm);
    const double wall_mm = std::max(least_wall_mm, wall_round_bolt_d * bolt.major_mm);
    clamp.bolt_behind_mm = std::max((bore_mm + bolt_clearance_mm(bolt.designation)) / 2.0 + wall_mm,
                                    clamp.seat_mm / 2.0 + room_round_seat_mm);
    clamp.lug_end_mm = clamp.bolt_behind_mm +
                       std::max(clamp.seat_mm / 2.0 + corner_radius_mm, end_distance_d * bolt.major_mm);
    return clamp;
}

plan::Contour arm_outline(double strip_width_mm, double far_mm, double pivot_outside_mm,
                          const std::optional<plan::Clamp>& clamp) {
    const double half_mm = strip_width_mm / 2.0;
    const double radius_mm = std::max(pivot_outside_mm / 2.0, half_mm);
    const bool is_wider = radius_mm > half_mm + plan::same_point_mm;
    const double joins_mm = is_wider ? std::sqrt(radius_mm * radius_mm - half_mm * half_mm) : 0.0;
    if (!is_wider && !clamp) return plan::slot({}, {far_mm, 0.0}, strip_width_mm);
    std::vector<Edge> edges = pivot_end({joins_mm, half_mm}, is_wider ? radius_mm : half_mm, clamp);
    edges.push_back(line(joins_mm, -half_mm));
    edges.push_back(arc({far_mm, -half_mm}, {far_mm, 0.0}));
    edges.push_back(line(far_mm, half_mm));
    return plan::Contour(std::move(edges));
}

plan::Contour boss_outline(double diameter_mm, const std::optional<plan::Clamp>& clamp) {
    const double radius_mm = diameter_mm / 2.0;
    if (!clamp) return plan::Contour(plan::Circle{{}, radius_mm});
    return plan::Contour(pivot_end({radius_mm, 0.0}, radius_mm, clamp));
}

plan::Contour slit_outline(const plan::Clamp& clamp) {
    const double end_mm = -(clamp.lug_end_mm + beyond_lugs_mm);
    return plan::rectangle({end_mm / 2.0, 0.0}, -end_mm, clamp.slit_mm, 0.0, {});
}

}  // namespace fitup::parts
