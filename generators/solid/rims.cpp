#include "solid/rims.hpp"

#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom_Circle.hxx>
#include <Geom_Line.hxx>
#include <Precision.hxx>
#include <cmath>
#include <numbers>

namespace fitup::solid {
namespace {

constexpr double full_turn = 2.0 * std::numbers::pi;

double angle_about(plan::Point centre, plan::Point point) {
    return std::atan2(point.y_mm - centre.y_mm, point.x_mm - centre.x_mm);
}

Track line_track(plan::Point from, plan::Point to) {
    Track track;
    track.origin = from;
    track.extent = plan::distance_mm(from, to);
    track.direction = {(to.x_mm - from.x_mm) / track.extent, (to.y_mm - from.y_mm) / track.extent};
    return track;
}

Track arc_track(plan::Point centre, plan::Point from, plan::Point to) {
    Track track;
    track.is_arc = true;
    track.origin = centre;
    track.radius_mm = plan::distance_mm(centre, from);
    track.direction = {(from.x_mm - centre.x_mm) / track.radius_mm,
                       (from.y_mm - centre.y_mm) / track.radius_mm};
    const double sweep = angle_about(centre, to) - angle_about(centre, from);
    track.extent = sweep > 0.0 ? sweep : sweep + full_turn;
    return track;
}

Track edge_track(const plan::Edge& edge, plan::Point to) {
    if (!edge.arc) return line_track(edge.from, to);
    const bool along = edge.arc->turn == plan::Turn::anticlockwise;
    Track track =
        along ? arc_track(edge.arc->centre, edge.from, to) : arc_track(edge.arc->centre, to, edge.from);
    track.along = along;
    return track;
}

Track circle_track(const plan::Circle& circle) {
    Track track;
    track.is_arc = true;
    track.origin = circle.centre;
    track.direction = {1.0, 0.0};
    track.radius_mm = circle.radius_mm;
    track.extent = full_turn;
    return track;
}

Handle(Geom_Curve) curve_of(const Track& track, double z_mm) {
    const gp_Pnt origin(track.origin.x_mm, track.origin.y_mm, z_mm);
    const gp_Dir direction(track.direction.x_mm, track.direction.y_mm, 0.0);
    if (!track.is_arc) return new Geom_Line(origin, direction);
    return new Geom_Circle(gp_Ax2(origin, gp::DZ(), direction), track.radius_mm);
}

TopoDS_Edge edge_between(const Handle(Geom_Curve) & curve, double extent, const TopoDS_Vertex& first,
                         const TopoDS_Vertex& last) {
    const BRep_Builder builder;
    TopoDS_Edge edge;
    builder.MakeEdge(edge, curve, Precision::Confusion());
    builder.Add(edge, first.Oriented(TopAbs_FORWARD));
    builder.Add(edge, last.Oriented(TopAbs_REVERSED));
    builder.Range(edge, 0.0, extent);
    return edge;
}

}  // namespace

std::vector<plan::Point> corners(const plan::Contour& contour) {
    if (const auto* circle = contour.circle()) {
        return {{circle->centre.x_mm + circle->radius_mm, circle->centre.y_mm}};
    }
    std::vector<plan::Point> points;
    for (const auto& edge : contour.edges()) points.push_back(edge.from);
    return points;
}

std::vector<Track> tracks(const plan::Contour& contour) {
    if (const auto* circle = contour.circle()) return {circle_track(*circle)};
    const auto edges = contour.edges();
    std::vector<Track> result;
    for (std::size_t i = 0; i < edges.size(); ++i) {
        const std::size_t next = (i + 1) % edges.size();
        Track track = edge_track(edges[i], edges[next].from);
        track.first = track.along ? i : next;
        track.last = track.along ? next : i;
        result.push_back(track);
    }
    return result;
}

Rims::Rims(std::span<const plan::Contour> contours) {
    entries_.reserve(contours.size());
    for (const auto& contour : contours)
        entries_.push_back({solid::tracks(contour), solid::corners(contour), {}});
}

const Rim& Rims::at(std::size_t contour, double z_mm) {
    Entry& entry = entries_[contour];
    for (const Rim& rim : entry.rims) {
        if (std::abs(rim.z_mm - z_mm) < plan::same_point_mm) return rim;
    }
    Rim rim{z_mm, {}, {}};
    for (const plan::Point corner : entry.corners) rim.vertices.push_back(vertex(corner, z_mm));
    for (const Track& track : entry.tracks) {
        rim.edges.push_back(edge_between(curve_of(track, z_mm), track.extent, rim.vertices[track.first],
                                         rim.vertices[track.last]));
    }
    return entry.rims.emplace_back(std::move(rim));
}

TopoDS_Vertex vertex(plan::Point point, double z_mm) {
    TopoDS_Vertex made;
    BRep_Builder().MakeVertex(made, gp_Pnt(point.x_mm, point.y_mm, z_mm), Precision::Confusion());
    return made;
}

TopoDS_Edge straight_edge(const TopoDS_Vertex& first, const TopoDS_Vertex& last) {
    const gp_Pnt from = BRep_Tool::Pnt(first);
    const gp_Vec step(from, BRep_Tool::Pnt(last));
    return edge_between(new Geom_Line(from, gp_Dir(step)), step.Magnitude(), first, last);
}

}  // namespace fitup::solid
