#include "solid/patches.hpp"

#include <BRep_Builder.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_ConicalSurface.hxx>
#include <Precision.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <cmath>

namespace fitup::solid {
namespace {

Handle(Geom2d_Line) line_of(const Line2& line) {
    return new Geom2d_Line(gp_Pnt2d(line.u, line.v), gp_Dir2d(line.du, line.dv));
}

/// A point of the surface that all of its parameters u share (a cone's tip), as an edge without length.
TopoDS_Edge tip_edge(const TopoDS_Vertex& tip, const TopoDS_Face& face, double v, double sweep) {
    const BRep_Builder builder;
    TopoDS_Edge edge;
    builder.MakeEdge(edge);
    builder.Add(edge, tip.Oriented(TopAbs_FORWARD));
    builder.Add(edge, tip.Oriented(TopAbs_REVERSED));
    lay_on(edge, face, {0.0, v, 1.0, 0.0});
    builder.Range(edge, face, 0.0, sweep);
    builder.Degenerated(edge, true);
    return edge;
}

/// The patch in the surface's own terms: its axis points where the cone widens, v = 0 at the wide end.
struct ConeFrame {
    const ConeEnd& wide;
    const ConeEnd& narrow;
    bool wide_is_to;
    bool axis_up;
    double slant_mm;
};

ConeFrame frame_of(const ConePatch& patch) {
    const bool wide_is_to = patch.to.radius_mm > patch.from.radius_mm;
    const ConeEnd& wide = wide_is_to ? patch.to : patch.from;
    const ConeEnd& narrow = wide_is_to ? patch.from : patch.to;
    return {wide, narrow, wide_is_to, wide.z_mm > narrow.z_mm,
            std::hypot(wide.z_mm - narrow.z_mm, wide.radius_mm - narrow.radius_mm)};
}

/// u runs anticlockwise about the axis: from the arcs' start when the axis points up, from their finish when
/// down.
Handle(Geom_ConicalSurface) surface_of(const ConePatch& patch, const ConeFrame& frame) {
    const double turn = frame.axis_up ? 0.0 : patch.sweep;
    const gp_Dir x_direction(patch.direction.x_mm * std::cos(turn) - patch.direction.y_mm * std::sin(turn),
                             patch.direction.x_mm * std::sin(turn) + patch.direction.y_mm * std::cos(turn),
                             0.0);
    const gp_Ax3 place(gp_Pnt(patch.centre.x_mm, patch.centre.y_mm, frame.wide.z_mm),
                       frame.axis_up ? gp::DZ() : gp::DZ().Reversed(), x_direction);
    const double half_angle = std::atan2(frame.wide.radius_mm - frame.narrow.radius_mm,
                                         std::abs(frame.wide.z_mm - frame.narrow.z_mm));
    return new Geom_ConicalSurface(place, half_angle, frame.wide.radius_mm);
}

void lay_arc(const TopoDS_Edge& arc, const TopoDS_Face& face, double v, bool axis_up, double sweep) {
    lay_on(arc, face, axis_up ? Line2{0.0, v, 1.0, 0.0} : Line2{sweep, v, -1.0, 0.0});
}

}  // namespace

TopoDS_Wire closed_wire(std::span<const TopoDS_Shape> edges) {
    const BRep_Builder builder;
    TopoDS_Wire wire;
    builder.MakeWire(wire);
    for (const auto& edge : edges) builder.Add(wire, edge);
    wire.Closed(true);
    return wire;
}

TopoDS_Face face_on(const Handle(Geom_Surface) & surface, const TopoDS_Wire& wire) {
    const BRep_Builder builder;
    TopoDS_Face face;
    builder.MakeFace(face, surface, Precision::Confusion());
    builder.Add(face, wire);
    return face;
}

void lay_on(const TopoDS_Edge& edge, const TopoDS_Face& face, const Line2& line) {
    BRep_Builder().UpdateEdge(edge, line_of(line), face, Precision::Confusion());
}

void lay_seam_on(const TopoDS_Edge& seam, const TopoDS_Face& face, const Line2& forward,
                 const Line2& reversed) {
    BRep_Builder().UpdateEdge(seam, line_of(forward), line_of(reversed), face, Precision::Confusion());
}

TopoDS_Face cone_face(const ConePatch& patch, bool faces_up) {
    const ConeFrame frame = frame_of(patch);
    const BRep_Builder builder;
    TopoDS_Face face;
    builder.MakeFace(face, surface_of(patch, frame), Precision::Confusion());

    // Sides are parametrised from `from` to `to`: up the cone when `to` is the wide end.
    const double v_from = frame.wide_is_to ? -frame.slant_mm : 0.0;
    const double dv = frame.wide_is_to ? 1.0 : -1.0;
    const Line2 at_least_u{0.0, v_from, 0.0, dv};
    const Line2 at_most_u{patch.sweep, v_from, 0.0, dv};
    const TopoDS_Edge& least = frame.axis_up ? patch.start : patch.finish;
    const TopoDS_Edge& most = frame.axis_up ? patch.finish : patch.start;
    if (least.IsSame(most)) {
        lay_seam_on(least, face, frame.wide_is_to ? at_most_u : at_least_u,
                    frame.wide_is_to ? at_least_u : at_most_u);
    } else {
        lay_on(least, face, at_least_u);
        lay_on(most, face, at_most_u);
    }
    lay_arc(frame.wide.edge, face, 0.0, frame.axis_up, patch.sweep);

    TopoDS_Shape narrow_edge;
    if (frame.narrow.edge.IsNull()) {
        narrow_edge = tip_edge(frame.narrow.tip, face, -frame.slant_mm, patch.sweep);
    } else {
        lay_arc(frame.narrow.edge, face, -frame.slant_mm, frame.axis_up, patch.sweep);
        narrow_edge = turned(frame.narrow.edge, !frame.axis_up);
    }
    builder.Add(face, closed_wire(std::initializer_list<TopoDS_Shape>{
                          narrow_edge, turned(most, !frame.wide_is_to),
                          turned(frame.wide.edge, frame.axis_up), turned(least, frame.wide_is_to)}));
    // The surface's normal points away from the axis, so down where the cone widens upwards.
    return TopoDS::Face(turned(face, faces_up == frame.axis_up));
}

}  // namespace fitup::solid
