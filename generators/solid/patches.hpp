#pragma once

#include <Geom_Surface.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Vertex.hxx>
#include <TopoDS_Wire.hxx>
#include <initializer_list>
#include <span>
#include <vector>

#include "solid/rims.hpp"

/// Faces of the few surfaces that a skin has, made from edges that their neighbours share.
namespace fitup::solid {

/// A closed wire of edges already turned the way they are walked.
TopoDS_Wire closed_wire(std::span<const TopoDS_Shape> edges);
TopoDS_Face face_on(const Handle(Geom_Surface) & surface, const TopoDS_Wire& wire);
inline TopoDS_Shape turned(const TopoDS_Shape& shape, bool reversed) {
    return reversed ? shape.Reversed() : shape;
}

/// Puts down that the edge is, on the face's surface, the straight line from (u, v) in direction (du, dv),
/// one unit of its parameter a unit of (du, dv).
struct Line2 {
    double u = 0.0;
    double v = 0.0;
    double du = 0.0;
    double dv = 0.0;
};
void lay_on(const TopoDS_Edge& edge, const TopoDS_Face& face, const Line2& line);
/// The seam of a full turn: `forward` where the edge is walked forwards.
void lay_seam_on(const TopoDS_Edge& seam, const TopoDS_Face& face, const Line2& forward,
                 const Line2& reversed);

/// One end of a cone patch: its arc about the patch's axis, or its tip (no edge, radius 0).
struct ConeEnd {
    double z_mm = 0.0;
    double radius_mm = 0.0;
    TopoDS_Edge edge;
    TopoDS_Vertex tip;
};

/// A piece of a cone about a vertical axis, between the same two angles at both ends.
///
/// `start` and `finish` join the ends where the arcs start and finish, from `from` to `to`, parametrised by
/// length; the same edge when it is a full turn.
struct ConePatch {
    plan::Point centre;
    plan::Point direction;  ///< to where the arcs start; unit
    double sweep = 0.0;     ///< radians
    ConeEnd from;
    ConeEnd to;
    TopoDS_Edge start;
    TopoDS_Edge finish;
};
TopoDS_Face cone_face(const ConePatch& patch, bool faces_up);

}  // namespace fitup::solid
